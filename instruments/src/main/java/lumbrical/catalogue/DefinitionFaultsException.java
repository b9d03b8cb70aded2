package lumbrical.catalogue;

import java.util.List;

/** A definition that was refused, with every fault found in it. */
public final class DefinitionFaultsException extends RuntimeException {
    private static final long serialVersionUID = 1L;
    private final transient List<String> faults;

    DefinitionFaultsException(String file, List<String> faults) {
        super(file + " has " + faults.size() + (faults.size() == 1 ? " fault" : " faults") + "; nothing was loaded."
                + "\n  " + String.join("\n  ", faults));
        this.faults = List.copyOf(faults);
    }

    /** One line per fault: its JSON path, what is wrong, what would be right. */
    public List<String> faults() {
        return faults;
    }
}
