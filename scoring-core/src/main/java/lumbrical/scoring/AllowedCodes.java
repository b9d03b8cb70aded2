package lumbrical.scoring;

import lumbrical.instrument.ResponseSet;

/** Tells allowed responses of one item from others, without boxing. */
final class AllowedCodes {
    final double low;
    final double high;
    private final double step;
    private final double[] codes;

    private AllowedCodes(double low, double high, double step, double[] codes) {
        this.low = low;
        this.high = high;
        this.step = step;
        this.codes = codes;
    }

    static AllowedCodes of(ResponseSet responses) {
        return responses.fold(new ResponseSet.Kinds<>() {
            @Override
            public AllowedCodes codes(ResponseSet.Codes set) {
                double[] codes =
                        set.codes().stream().mapToDouble(Double::doubleValue).toArray();
                boolean wholeAndConsecutive = codes[0] == Math.rint(codes[0]);
                for (int i = 1; i < codes.length; i++) {
                    wholeAndConsecutive &= codes[i] == codes[i - 1] + 1;
                }
                return new AllowedCodes(set.low(), set.high(), wholeAndConsecutive ? 1 : 0, codes);
            }

            @Override
            public AllowedCodes continuous(ResponseSet.Continuous set) {
                return new AllowedCodes(set.low(), set.high(), -1, new double[0]);
            }
        });
    }

    /** Whether the codes are whole numbers without a gap. */
    boolean consecutive() {
        return step == 1;
    }

    boolean allows(double value) {
        if (!(value >= low && value <= high)) {
            return false;
        }
        if (step == 1) {
            return value == (int) value;
        }
        if (step < 0) {
            return true;
        }
        for (double code : codes) {
            if (code == value) {
                return true;
            }
        }
        return false;
    }

    /** The lowest allowed response other than {@code except}, NaN = no exception. */
    double lowExcept(double except) {
        return low == except && codes.length > 1 ? codes[1] : low;
    }

    /** The highest allowed response other than {@code except}, NaN = no exception. */
    double highExcept(double except) {
        return high == except && codes.length > 1 ? codes[codes.length - 2] : high;
    }
}
