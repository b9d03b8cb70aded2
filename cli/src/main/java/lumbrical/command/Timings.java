package lumbrical.command;

import java.util.Arrays;
import java.util.Locale;
import java.util.stream.Collectors;
import lumbrical.batch.ScoringProgressListener;
import lumbrical.tabular.Input;
import lumbrical.tabular.ProgressListener;

/** How far a run is, and where its time goes. What passes between two calls counts for the stage that the second one names. */
final class Timings implements ScoringProgressListener {
    /** What a run does. */
    enum Stage {
        READ,
        SCORE,
        PLACE,
        WRITE;

        private String word() {
            return name().toLowerCase(Locale.ROOT);
        }
    }

    private final ProgressListener progress;
    private final long[] nanos = new long[Stage.values().length];
    private long last = System.nanoTime();

    /** @param progress told how far the reading is */
    Timings(ProgressListener progress) {
        this.progress = progress;
    }

    @Override
    public void read(Input input, long rows, double share) {
        progress.read(input, rows, share);
    }

    /** The stage that has been at work until now. */
    void done(Stage stage) {
        long now = System.nanoTime();
        nanos[stage.ordinal()] += now - last;
        last = now;
    }

    @Override
    public void begins() {
        done(Stage.READ);
    }

    @Override
    public void ends() {
        done(Stage.SCORE);
    }

    /** One line: {@code time: read 1.20 s, score 0.30 s, place 0.40 s, write 5.00 s}. */
    String line() {
        return Arrays.stream(Stage.values())
                .map(stage -> String.format(Locale.ROOT, "%s %.2f s", stage.word(), nanos[stage.ordinal()] / 1e9))
                .collect(Collectors.joining(", ", "time: ", ""));
    }
}
