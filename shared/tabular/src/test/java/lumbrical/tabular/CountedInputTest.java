package lumbrical.tabular;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;

import java.io.ByteArrayInputStream;
import java.io.IOException;
import org.junit.jupiter.api.Test;

class CountedInputTest {
    private static CountedInput of(int bytes, long size, long before) {
        return new CountedInput(new ByteArrayInputStream(new byte[bytes]), size, before);
    }

    @Test
    void knowsTheShareThatWasRead() throws IOException {
        try (CountedInput in = of(4, 8, 4)) {
            assertEquals(0.5, in.share());
            in.read();
            assertEquals(0.625, in.share());
            assertEquals(3, in.read(new byte[10], 0, 10));
            assertEquals(1, in.share());
            assertEquals(-1, in.read());
            assertEquals(-1, in.read(new byte[10], 0, 10));
            assertEquals(1, in.share(), "nothing came");
        }
    }

    @Test
    void anUnknownSizeGivesNoShareAndAGrownFileNoMoreThanTheWhole() throws IOException {
        try (CountedInput unknown = of(4, 0, 0);
                CountedInput grown = of(4, 2, 0)) {
            unknown.read();
            assertEquals(0, unknown.share());
            assertEquals(4, grown.read(new byte[4], 0, 4));
            assertEquals(1, grown.share());
            assertFalse(grown.markSupported(), "a part read twice would count twice");
        }
    }
}
