package lumbrical.clinic;

import java.util.List;
import java.util.Locale;
import java.util.OptionalInt;
import lumbrical.sitting.ScoredForm;

/**
 * How much memory a clinic takes once it is placed in time. Nearly full, the program would collect garbage for minutes before it fails; so
 * what cannot be held is told at once.
 */
final class MemoryNeed {
    /**
     * Bytes of the program itself, for each sitting, for each of its forms and for each of their scores; ours: measured on invented clinics,
     * see docs/performance.md.
     */
    private static final long PROGRAM = 45_000_000;

    private static final long SITTING = 400;
    private static final long FORM = 120;
    private static final long SCORE = 350;
    /** The part of the memory that may be taken, in percent; the rest is for what is new, and for the collector to work in. */
    private static final long USABLE_PERCENT = 90;

    private static final long MEGABYTE = 1_000_000;

    private MemoryNeed() {}

    /**
     * Refuses a clinic that cannot be held.
     *
     * @param limit the memory of the program, in bytes
     * @throws ClinicTooLargeException if it needs more
     */
    static void check(List<ScoredForm> forms, long limit) {
        long sittings = 0;
        long scores = 0;
        OptionalInt row = OptionalInt.of(-1);
        for (ScoredForm form : forms) {
            sittings += form.sitting().place().row().equals(row) ? 0 : 1;
            row = form.sitting().place().row();
            scores += form.results().size();
        }
        long needed = (PROGRAM + sittings * SITTING + forms.size() * FORM + scores * SCORE) * 100 / USABLE_PERCENT;
        if (needed > limit) {
            throw new ClinicTooLargeException(
                    String.format(
                            Locale.ROOT,
                            "The memory is too small for this run: %d forms with %d scores take about %d MB, and the program may use %d MB.",
                            forms.size(),
                            scores,
                            needed / MEGABYTE,
                            limit / MEGABYTE),
                    needed / MEGABYTE);
        }
    }
}
