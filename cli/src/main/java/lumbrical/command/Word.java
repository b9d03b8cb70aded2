package lumbrical.command;

import java.util.List;
import java.util.Optional;
import picocli.CommandLine.Model.ArgSpec;
import picocli.CommandLine.Model.OptionSpec;
import picocli.CommandLine.Model.PositionalParamSpec;

/**
 * What a command takes on its line, and what was given for it. Told to the command-line library without annotations: to find and
 * read those takes longer than many a command.
 */
sealed interface Word {
    /** As the command-line library knows it. */
    ArgSpec spec();

    /** What becomes of the files that its values name. */
    default Use use() {
        return Use.NONE;
    }

    /** The texts given for it. */
    default List<String> values() {
        return List.of();
    }

    /** What becomes of the file that a value names. */
    enum Use {
        /** No file. */
        NONE,
        READ,
        WRITTEN
    }

    /** An option that says something by being there. */
    record Flag(OptionSpec spec) implements Word {
        static Flag of(String name, String description) {
            return new Flag(option(name, description).type(boolean.class).build());
        }

        boolean given() {
            return Boolean.TRUE.equals(spec.getValue());
        }
    }

    /** An option that takes a text. */
    record Text(OptionSpec spec, Use use) implements Word {
        static Text of(String name, String placeholder, String description) {
            return new Text(text(name, placeholder, description).build(), Use.NONE);
        }

        /** An option that names a file to read. */
        static Text read(String name, String placeholder, String description) {
            return new Text(text(name, placeholder, description).build(), Use.READ);
        }

        /** An option that names a file to write. */
        static Text written(String name, String placeholder, String description) {
            return new Text(text(name, placeholder, description).build(), Use.WRITTEN);
        }

        /** An option without which the command does not run. */
        static Text required(String name, String placeholder, String description) {
            return new Text(text(name, placeholder, description).required(true).build(), Use.NONE);
        }

        private static OptionSpec.Builder text(String name, String placeholder, String description) {
            return option(name, description).paramLabel(placeholder).type(String.class);
        }

        Optional<String> value() {
            return Optional.ofNullable(spec.getValue());
        }

        @Override
        public List<String> values() {
            return value().map(List::of).orElse(List.of());
        }
    }

    /** An option that takes a whole number. */
    record WholeNumber(OptionSpec spec, int standard) implements Word {
        static WholeNumber of(String name, String placeholder, int standard, String description) {
            return new WholeNumber(
                    option(name, description)
                            .paramLabel(placeholder)
                            .type(int.class)
                            .build(),
                    standard);
        }

        int value() {
            return Optional.<Integer>ofNullable(spec.getValue()).orElse(standard);
        }
    }

    /** An option that takes texts separated by commas. */
    record Texts(OptionSpec spec) implements Word {
        static Texts of(String name, String placeholder, String description) {
            return new Texts(option(name, description)
                    .paramLabel(placeholder)
                    .type(List.class)
                    .auxiliaryTypes(String.class)
                    .splitRegex(",")
                    .build());
        }

        @Override
        public List<String> values() {
            return Optional.<List<String>>ofNullable(spec.getValue()).orElse(List.of());
        }
    }

    /** What stands on the line without the name of an option. */
    record Arguments(PositionalParamSpec spec, Use use) implements Word {
        /**
         * @param index where they stand, as the command-line library writes it
         * @param arity how many there may be, in the same way
         */
        static Arguments of(String placeholder, String index, String arity, String description) {
            return new Arguments(argument(placeholder, index, arity, description), Use.NONE);
        }

        /** Names of files to read; index and arity as in {@link #of}. */
        static Arguments read(String placeholder, String index, String arity, String description) {
            return new Arguments(argument(placeholder, index, arity, description), Use.READ);
        }

        private static PositionalParamSpec argument(
                String placeholder, String index, String arity, String description) {
            return PositionalParamSpec.builder()
                    .paramLabel(placeholder)
                    .index(index)
                    .arity(arity)
                    .required(!arity.startsWith("0"))
                    .type(List.class)
                    .auxiliaryTypes(String.class)
                    .description(description)
                    .build();
        }

        /** One or more files of responses. */
        static Arguments responses() {
            return read("RESPONSES", "0..*", "1..*", "CSV or XLSX files; FILE.xlsx#Sheet names a sheet.");
        }

        @Override
        public List<String> values() {
            return Optional.<List<String>>ofNullable(spec.getValue()).orElse(List.of());
        }

        /** The one there must be. */
        String value() {
            return values().get(0);
        }
    }

    /** The option that shows the help. */
    static OptionSpec help() {
        return option("--help", "Show this help.")
                .type(boolean.class)
                .usageHelp(true)
                .build();
    }

    /** The option that shows the version. */
    static OptionSpec version() {
        return option("--version", "Show the version.")
                .type(boolean.class)
                .versionHelp(true)
                .build();
    }

    private static OptionSpec.Builder option(String name, String description) {
        return OptionSpec.builder(name).description(description);
    }
}
