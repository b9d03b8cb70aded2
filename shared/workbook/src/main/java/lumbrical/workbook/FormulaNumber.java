package lumbrical.workbook;

import java.math.BigDecimal;

/** Numbers as a formula writes them: all digits, a decimal point, no exponent; a negative one in brackets. */
final class FormulaNumber {
    private FormulaNumber() {}

    static String of(double value) {
        String text = value == 0
                ? "0"
                : new BigDecimal(Double.toString(value)).stripTrailingZeros().toPlainString();
        return value < 0 ? "(" + text + ")" : text;
    }
}
