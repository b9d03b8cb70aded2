package lumbrical.document;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import java.util.Optional;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.constraints.CharRange;
import net.jqwik.api.constraints.IntRange;
import net.jqwik.api.constraints.StringLength;
import org.junit.jupiter.api.Test;

/** Typing errors are invented. */
class NearestTest {
    @Test
    void oneLetterMoreLessOtherOrTwoSwappedIsNear() {
        List<String> known = List.of("quickdash_1");
        for (String typed : List.of("quickdash_11", "quikdash_1", "quickdesh_1", "qiuckdash_1", "quickdash1_")) {
            assertEquals(Optional.of("quickdash_1"), Nearest.to(typed, known), typed);
        }
        assertEquals(Optional.empty(), Nearest.to("quickdash_1", known), "the word itself is no error");
        assertEquals(Optional.empty(), Nearest.to("quikdsh_1", known), "two letters less");
    }

    @Test
    void aWordUnlikeThePrefixMayNotBegin() {
        assertFalse(Nearest.mayBegin("remark", "dash_"));
        assertFalse(Nearest.mayBegin("", "dash_"));
        assertTrue(Nearest.mayBegin("dsah_1", "dash_"));
    }

    /** Whatever is one edit away from a word passes the filter for that word's prefix; few letters make repeats likely. */
    @Property
    void nothingNearIsFilteredOut(
            @ForAll @CharRange(from = 'a', to = 'c') @StringLength(min = 1, max = 4) String prefix,
            @ForAll @CharRange(from = 'a', to = 'c') @StringLength(max = 3) String rest,
            @ForAll @IntRange(min = 0, max = 6) int at,
            @ForAll @CharRange(from = 'a', to = 'c') char letter,
            @ForAll @IntRange(min = 0, max = 3) int edit) {
        String known = prefix + rest;
        String typed = edited(known, Math.min(at, known.length()), letter, edit);
        if (Nearest.oneEdit(typed, known)) {
            assertTrue(Nearest.mayBegin(typed, prefix), typed + " for " + known);
        }
    }

    private static String edited(String word, int at, char letter, int edit) {
        String before = word.substring(0, at);
        String after = word.substring(at);
        return switch (edit) {
            case 0 -> before + letter + after;
            case 1 -> after.isEmpty() ? word : before + after.substring(1);
            case 2 -> after.isEmpty() ? word : before + letter + after.substring(1);
            default -> after.length() < 2 ? word : before + after.charAt(1) + after.charAt(0) + after.substring(2);
        };
    }
}
