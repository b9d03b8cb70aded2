package lumbrical.sheetxml;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.Random;
import java.util.zip.CRC32;
import org.junit.jupiter.api.Test;

/** Check sums put together, against the check sum of the whole by the JDK. */
class CrcTest {
    private static int of(byte[] bytes, int from, int to) {
        CRC32 crc = new CRC32();
        crc.update(bytes, from, to - from);
        return (int) crc.getValue();
    }

    @Test
    void theSumsOfTwoPartsGiveThatOfTheWhole() {
        Random random = new Random(1);
        for (int length : new int[] {0, 1, 2, 7, 255, 256, 4_096, 100_003}) {
            byte[] bytes = new byte[length];
            random.nextBytes(bytes);
            for (int cut : new int[] {0, length / 3, length / 2, length}) {
                int whole = Crc.concatenated(of(bytes, 0, cut), of(bytes, cut, length), length - cut);
                assertEquals(of(bytes, 0, length), whole, length + " bytes cut at " + cut);
            }
        }
    }
}
