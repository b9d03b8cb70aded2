package lumbrical.sheetxml;

/** Check sums (CRC-32 as the zip format has it) of texts one after the other, from the sums of each. */
final class Crc {
    /** The polynomial of CRC-32, its bits reversed (ISO/IEC 13239; APPNOTE of the zip format, 4.4.7). */
    private static final int POLYNOMIAL = 0xEDB88320;

    private Crc() {}

    /**
     * The sum of two texts one after the other.
     *
     * @param first the sum of the first
     * @param second the sum of the second
     * @param length how many bytes the second has
     */
    static int concatenated(int first, int second, long length) {
        return times(first, powerOfX(8 * length)) ^ second;
    }

    /** x to that power, modulo the polynomial; by squares. */
    private static int powerOfX(long power) {
        int result = 1 << 31; // the polynomial 1: the highest bit stands for x to the power 0
        int square = 1 << 30; // x
        for (long left = power; left > 0; left >>= 1) {
            if ((left & 1) == 1) {
                result = times(result, square);
            }
            square = times(square, square);
        }
        return result;
    }

    /** The product of two polynomials over the two-element field, modulo the polynomial. */
    private static int times(int a, int b) {
        int product = 0;
        int factor = b;
        for (int bit = 31; bit >= 0; bit--) {
            if ((a >>> bit & 1) == 1) {
                product ^= factor;
            }
            factor = (factor & 1) == 1 ? factor >>> 1 ^ POLYNOMIAL : factor >>> 1;
        }
        return product;
    }
}
