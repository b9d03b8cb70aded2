package lumbrical.output;

import java.nio.file.Path;

/** An output that may not be written: it exists already, its folder does not, or it is a folder. Nothing was done. */
public final class OutputRefusedException extends RuntimeException {
    private static final long serialVersionUID = 1L;

    OutputRefusedException(Path target, String message) {
        super(String.valueOf(target.getFileName()) + ": " + message);
    }
}
