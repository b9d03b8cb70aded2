package lumbrical.verification;

import java.util.Arrays;
import java.util.Optional;
import org.apache.commons.csv.CSVRecord;

/**
 * A published figure that follows from others by arithmetic used here: errors of measurement, effect sizes, shares of a range. The
 * quantities are a closed set.
 */
final class ArithmeticVector {
    private static final double Z95 = 1.96;
    private static final double Z90 = 1.645;

    private ArithmeticVector() {}

    /** What is wrong, or empty. */
    static Optional<String> check(CSVRecord row) {
        double[] x = Arrays.stream(row.get("inputs").trim().split("\\s+"))
                .mapToDouble(Double::parseDouble)
                .toArray();
        double actual =
                switch (row.get("quantity")) {
                    case "mdc95-from-sem" -> Z95 * Math.sqrt(2) * x[0];
                    case "mdc90-from-sem" -> Z90 * Math.sqrt(2) * x[0];
                    case "mdc95-from-sem-of-difference", "precision95" -> Z95 * x[0];
                    case "sem-from-mdc95" -> x[0] / (Z95 * Math.sqrt(2));
                    case "sem-from-mdc90" -> x[0] / (Z90 * Math.sqrt(2));
                    case "sem-from-sd-and-reliability" -> x[0] * Math.sqrt(1 - x[1]);
                    case "share-of-range" -> x[0] / x[1];
                    case "effect-size" -> (x[0] - x[1]) / x[2];
                    case "effect-size-pooled-sd" -> (x[0] - x[1]) / Math.sqrt((x[2] * x[2] + x[3] * x[3]) / 2);
                    case "t-from-srm" -> x[0] * Math.sqrt(x[1]);
                    case "mean" -> Arrays.stream(x).average().orElseThrow();
                    case "difference" -> x[0] - x[1];
                    case "product" -> x[0] * x[1];
                    case "mean-plus-two-sd" -> x[0] + 2 * x[1];
                    case "sum-of-numbers" -> Arrays.stream(x).sum();
                    default -> throw new IllegalArgumentException("quantity '" + row.get("quantity") + "' is none");
                };
        double expected = Double.parseDouble(row.get("expected"));
        double tolerance = Double.parseDouble(row.get("tolerance"));
        return Math.abs(actual - expected) <= tolerance
                ? Optional.empty()
                : Optional.of(row.get("quantity") + " is " + actual + ", expected " + expected);
    }
}
