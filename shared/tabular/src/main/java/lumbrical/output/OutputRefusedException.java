package lumbrical.output;

import java.nio.file.Path;
import java.util.List;
import lumbrical.problem.Remedy;

/** An output that may not be written: it exists already, its folder does not, or it is a folder. Nothing was done. */
public final class OutputRefusedException extends RuntimeException {
    private static final long serialVersionUID = 1L;

    private final transient List<Remedy> remedies;

    OutputRefusedException(Path target, String message, Remedy... remedies) {
        super(String.valueOf(target.getFileName()) + ": " + message);
        this.remedies = List.of(remedies);
    }

    /** What would let it be written. */
    public List<Remedy> remedies() {
        return remedies;
    }
}
