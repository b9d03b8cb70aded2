package lumbrical.number;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertSame;
import static org.junit.jupiter.api.Assertions.assertThrows;

import java.util.ArrayList;
import java.util.List;
import java.util.function.Function;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import org.junit.jupiter.api.Test;

class MemoTest {
    @Property
    void whatItGivesIsWhatTheFunctionGives(@ForAll List<Integer> keys) {
        Memo<Integer, Long> squares = new Memo<>(2, k -> (long) k * k); // four places, so that most keys share one
        for (int key : keys) {
            assertEquals((long) key * key, squares.of(key));
        }
    }

    @Test
    void aKeyThatComesAgainIsNotReckonedAgain() {
        List<Double> reckoned = new ArrayList<>();
        Memo<Double, String> texts = new Memo<>(8, k -> {
            reckoned.add(k);
            return k.toString();
        });
        assertSame(texts.of(12.5), texts.of(12.5));
        texts.of(0.0);
        texts.of(-0.0);
        assertEquals(List.of(12.5, 0.0, -0.0), reckoned, "zeros of two signs are two keys");
    }

    @Test
    void ofEqualValuesTheFirstStandsForAll() {
        Memo<List<String>, List<String>> lists = new Memo<>(1, Function.identity());
        List<String> first = List.of("a", "b");
        assertSame(first, lists.of(first));
        assertSame(first, lists.of(new ArrayList<>(first)));
    }

    @Test
    void itsSizeIsBounded() {
        assertThrows(IllegalArgumentException.class, () -> new Memo<>(0, Function.identity()));
        assertThrows(IllegalArgumentException.class, () -> new Memo<>(21, Function.identity()));
    }
}
