package lumbrical.command;

import java.util.List;
import picocli.CommandLine.Model.ArgSpec;
import picocli.CommandLine.Model.OptionSpec;

/**
 * What a command takes on its line, and what was given for it. Told to the command-line library without annotations: to find and
 * read those takes longer than many a command.
 */
sealed interface CliOption permits FlagOption, TextOption, NumberOption, ListOption, Positional {
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

    /** The option that shows the help. */
    static OptionSpec help() {
        return OptionSpec.builder("-h", "--help")
                .description("Show this help.")
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

    /** An option as the command-line library builds it. */
    static OptionSpec.Builder option(String name, String description) {
        return OptionSpec.builder(name).description(description);
    }
}
