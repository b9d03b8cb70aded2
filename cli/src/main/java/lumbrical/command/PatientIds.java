package lumbrical.command;

import java.util.Locale;
import java.util.Optional;
import java.util.Set;
import lumbrical.document.Nearest;

/** Ids of patients as people type them. */
final class PatientIds {
    private PatientIds() {}

    /** The id of {@code known} that may be meant by {@code typed}, which is none of them. */
    static Optional<String> meant(String typed, Set<String> known) {
        return known.stream()
                .filter(id -> plain(id).equals(plain(typed)))
                .findFirst()
                .or(() -> Nearest.to(typed, known));
    }

    /** An id without what people leave out or add: blanks, case, leading zeros. */
    private static String plain(String id) {
        return id.strip().toLowerCase(Locale.ROOT).replaceAll("\\s+", "").replaceFirst("^0+(?=.)", "");
    }
}
