package lumbrical.command;

import java.util.List;
import java.util.Optional;
import picocli.CommandLine.Model.OptionSpec;

/** An option that takes a text. */
record TextOption(OptionSpec spec, CliOption.Use use) implements CliOption {
    static TextOption of(String name, String placeholder, String description) {
        return new TextOption(text(name, placeholder, description).build(), CliOption.Use.NONE);
    }

    /** An option that names a file to read. */
    static TextOption read(String name, String placeholder, String description) {
        return new TextOption(text(name, placeholder, description).build(), CliOption.Use.READ);
    }

    /** An option that names a file to write. */
    static TextOption written(String name, String placeholder, String description) {
        return new TextOption(text(name, placeholder, description).build(), CliOption.Use.WRITTEN);
    }

    /** An option without which the command does not run. */
    static TextOption required(String name, String placeholder, String description) {
        return new TextOption(
                text(name, placeholder, description).required(true).build(), CliOption.Use.NONE);
    }

    private static OptionSpec.Builder text(String name, String placeholder, String description) {
        return CliOption.option(name, description).paramLabel(placeholder).type(String.class);
    }

    Optional<String> value() {
        return Optional.ofNullable(spec.getValue());
    }

    @Override
    public List<String> values() {
        return value().map(List::of).orElse(List.of());
    }
}
