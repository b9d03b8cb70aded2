package lumbrical.command;

import java.util.Optional;
import picocli.CommandLine.Model.OptionSpec;

/** An option that takes a whole number. */
record NumberOption(OptionSpec spec, int standard) implements CliOption {
    static NumberOption of(String name, String placeholder, int standard, String description) {
        return new NumberOption(
                CliOption.option(name, description)
                        .paramLabel(placeholder)
                        .type(int.class)
                        .build(),
                standard);
    }

    int value() {
        return Optional.<Integer>ofNullable(spec.getValue()).orElse(standard);
    }
}
