package lumbrical.output;

import java.nio.file.Path;

/** An output that may not be written: it exists already, its folder does not, or it is a folder. Nothing was done. */
public final class OutputRefused extends RuntimeException {
    private static final long serialVersionUID = 1L;

    OutputRefused(Path target, String message) {
        super(String.valueOf(target.getFileName()) + ": " + message);
    }
}
