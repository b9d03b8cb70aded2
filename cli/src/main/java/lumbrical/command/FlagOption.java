package lumbrical.command;

import picocli.CommandLine.Model.OptionSpec;

/** An option that says something by being there. */
record FlagOption(OptionSpec spec) implements CliOption {
    static FlagOption of(String name, String description) {
        return new FlagOption(
                CliOption.option(name, description).type(boolean.class).build());
    }

    boolean given() {
        return Boolean.TRUE.equals(spec.getValue());
    }
}
