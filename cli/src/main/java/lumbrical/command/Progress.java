package lumbrical.command;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.function.LongSupplier;
import lumbrical.tabular.Input;
import lumbrical.tabular.ProgressListener;

/** Says how far a long run is, on a terminal only, and only after two seconds. */
final class Progress implements ProgressListener {
    private static final long FIRST_AFTER_NANOS = 2_000_000_000L;
    private static final long EVERY_NANOS = 500_000_000L;
    private static final int WIDTH = 70;

    private final Console console;
    private final boolean terminal;
    private final LongSupplier clock;
    private final long start;
    private final Map<Input, Long> sizes = new LinkedHashMap<>();
    private final Map<Input, Long> rows = new LinkedHashMap<>();
    private final Map<Input, Double> bytes = new LinkedHashMap<>();
    private long next = FIRST_AFTER_NANOS;
    private boolean shown;

    Progress(Console console, List<Input> inputs) {
        this(console, inputs, System.console() != null, System::nanoTime);
    }

    /**
     * @param terminal whether somebody looks
     * @param clock nanoseconds since some moment
     */
    Progress(Console console, List<Input> inputs, boolean terminal, LongSupplier clock) {
        this.console = console;
        this.terminal = terminal;
        this.clock = clock;
        this.start = clock.getAsLong();
        if (terminal) {
            inputs.forEach(input -> sizes.put(input, size(input)));
        }
    }

    private static long size(Input input) {
        try {
            return Files.isRegularFile(input.path()) ? Files.size(input.path()) : 0;
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    @Override
    public void read(Input input, long rowsOfInput, double share) {
        if (!terminal) {
            return;
        }
        rows.put(input, rowsOfInput);
        bytes.put(input, share * sizes.getOrDefault(input, 0L));
        double all = sizes.values().stream().mapToLong(Long::longValue).sum();
        double read = bytes.values().stream().mapToDouble(Double::doubleValue).sum();
        if (read > 0 && due()) {
            double seconds = (clock.getAsLong() - start) / 1e9;
            say(String.format(
                    Locale.ROOT,
                    "%,d rows, %d %% of the bytes read, about %d s left",
                    rows.values().stream().mapToLong(Long::longValue).sum(),
                    Math.round(100 * read / all),
                    Math.round(seconds * (all - read) / read)));
        }
    }

    /** Says what the run does now, if it has taken long already or when it next does. */
    void stage(String doing) {
        if (terminal && due()) {
            say(doing);
        }
    }

    private boolean due() {
        return clock.getAsLong() - start >= next;
    }

    private void say(String text) {
        next = clock.getAsLong() - start + EVERY_NANOS;
        shown = true;
        line(text);
    }

    /** The cursor goes back afterwards: what is said next stands in the place of the line. */
    private void line(String text) {
        console.err().print(text + " ".repeat(Math.max(0, WIDTH - text.length())) + "\r");
        console.err().flush();
    }

    /** Clears the line. */
    void end() {
        if (shown) {
            line("");
        }
    }
}
