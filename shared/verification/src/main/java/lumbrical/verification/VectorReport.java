package lumbrical.verification;

import java.util.List;
import java.util.Map;

/**
 * How the vectors fared.
 *
 * @param instruments one line for each instrument with vectors, by id
 * @param failures what failed: file, row, what was expected and what came
 */
public record VectorReport(List<PerInstrument> instruments, List<String> failures) {
    /** Copies the lists. */
    public VectorReport {
        instruments = List.copyOf(instruments);
        failures = List.copyOf(failures);
    }

    /**
     * The vectors of one instrument.
     *
     * @param id instrument id, or {@code arithmetic} for checks that are no scorings
     * @param rows rows run
     * @param passed rows that passed
     * @param byTag rows by where their expected value comes from
     */
    public record PerInstrument(String id, int rows, int passed, Map<String, Integer> byTag) {}

    /** Rows run. */
    public int rows() {
        return instruments.stream().mapToInt(PerInstrument::rows).sum();
    }

    /** Whether every row passed and there was at least one. */
    public boolean good() {
        return failures.isEmpty() && rows() > 0;
    }
}
