package lumbrical.fhir;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import lumbrical.catalogue.Catalogue;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.Scale;
import lumbrical.tabular.Input;
import lumbrical.tabular.SimpleTable;
import lumbrical.tabular.UnreadableInputException;

/** Codes of LOINC and SNOMED CT that a user adds to ours. None is guessed; whoever adds one answers for it and its licence. */
public final class ExternalCodes {
    /** No codes besides ours. */
    public static final ExternalCodes NONE = new ExternalCodes(Map.of());

    private static final Map<String, String> SYSTEMS =
            Map.of("loinc", "http://loinc.org", "snomed", "http://snomed.info/sct");

    private final Map<String, List<Code>> codes;

    private ExternalCodes(Map<String, List<Code>> codes) {
        this.codes = Map.copyOf(codes);
    }

    /**
     * A code of another system.
     *
     * @param system its URI
     * @param code the code
     * @param display its name, if given
     */
    public record Code(String system, String code, Optional<String> display) {}

    /**
     * The codes in {@code input}: {@code our_code,system,code}, optionally {@code display}. Our code is an instrument and a scale,
     * such as {@code nprs-rest}, an instrument and an item, {@code nprs_rest}, or an instrument, {@code nprs}; the system is {@code loinc} or {@code snomed}, or its URI.
     *
     * @throws UnreadableInputException if it cannot be read, a system or a code of ours is not known, or a row stands twice
     */
    public static ExternalCodes read(Input input, Catalogue catalogue) {
        SimpleTable table = SimpleTable.read(input, Optional.empty(), List.of("our_code", "system", "code"));
        Map<String, List<Code>> codes = new HashMap<>();
        Set<List<String>> seen = new HashSet<>();
        for (SimpleTable.Row row : table.rows()) {
            String ours = row.get("our_code");
            if (!known(ours, catalogue)) {
                throw new UnreadableInputException(
                        row.place().in("our_code"),
                        "there is no such score, item or form. Write instrument and scale, such as nprs-rest or"
                                + " nprs-rest-change, instrument and item, such as nprs_rest, or an instrument, such as nprs.");
            }
            String written = row.get("system");
            String system = Optional.ofNullable(SYSTEMS.get(written))
                    .or(() -> Optional.of(written).filter(SYSTEMS::containsValue))
                    .orElseThrow(() -> new UnreadableInputException(
                            row.place().in("system"),
                            "the system is not known. Write loinc or snomed; codes of other systems are not added."));
            String code = row.get("code");
            if (!code.matches("[A-Za-z0-9-]{1,40}")) {
                throw new UnreadableInputException(
                        row.place().in("code"), "this is no code. Write letters, digits and hyphens only.");
            }
            if (!seen.add(List.of(ours, system))) {
                throw new UnreadableInputException(
                        row.place().in("system"), "this score has a code of the system already. Remove one.");
            }
            codes.computeIfAbsent(ours, o -> new ArrayList<>()).add(new Code(system, code, row.filled("display")));
        }
        return new ExternalCodes(codes);
    }

    private static boolean known(String ours, Catalogue catalogue) {
        int item = ours.indexOf('_');
        if (item > 0) {
            return catalogue.find(ours.substring(0, item)).stream()
                    .flatMap(i -> i.columns().stream())
                    .anyMatch(c -> c.shortName().equals(ours.substring(item + 1)));
        } else if (catalogue.find(ours).isPresent()) {
            return true;
        }
        int end = ours.indexOf('-');
        Optional<Instrument> instrument = end < 0 ? Optional.empty() : catalogue.find(ours.substring(0, end));
        return instrument.stream()
                .flatMap(i -> i.scales().stream().filter(s -> isCodeOf(ours, i, s)))
                .findAny()
                .isPresent();
    }

    private static boolean isCodeOf(String ours, Instrument instrument, Scale scale) {
        return ours.equals(FhirCodes.score(instrument, scale)) || ours.equals(FhirCodes.change(instrument, scale));
    }

    /** Codes for a code of ours, in the order given. */
    List<Code> of(String ours) {
        return codes.getOrDefault(ours, List.of());
    }
}
