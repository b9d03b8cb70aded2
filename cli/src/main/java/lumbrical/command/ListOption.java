package lumbrical.command;

import java.util.List;
import java.util.Optional;
import picocli.CommandLine.Model.OptionSpec;

/** An option that takes texts separated by commas. */
record ListOption(OptionSpec spec) implements CliOption {
    static ListOption of(String name, String placeholder, String description) {
        return new ListOption(CliOption.option(name, description)
                .paramLabel(placeholder)
                .type(List.class)
                .auxiliaryTypes(String.class)
                .splitRegex(",")
                .build());
    }

    /** An option that may be given several times, each time with one text, commas and all. */
    static ListOption repeated(String name, String placeholder, String description) {
        return new ListOption(CliOption.option(name, description)
                .paramLabel(placeholder)
                .type(List.class)
                .auxiliaryTypes(String.class)
                .build());
    }

    @Override
    public List<String> values() {
        return Optional.<List<String>>ofNullable(spec.getValue()).orElse(List.of());
    }
}
