package lumbrical.command;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.FileSystemException;
import java.util.List;
import java.util.Optional;
import lumbrical.catalogue.DefinitionFaultsException;
import lumbrical.clinic.ClinicTooLargeException;
import lumbrical.output.OutputFile;
import lumbrical.output.OutputRefusedException;
import lumbrical.problem.Remedy;
import lumbrical.tabular.UnreadableInputException;
import picocli.CommandLine;
import picocli.CommandLine.IExecutionExceptionHandler;
import picocli.CommandLine.IParameterExceptionHandler;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.ParseResult;

/**
 * Says what went wrong, and gives the exit status for it. A class rather than two lambdas: those would keep the command-line
 * library, compiled for an old Java, out of the archive of classes that lets the program start at once.
 */
record Failures(Console console, boolean debug) implements IParameterExceptionHandler, IExecutionExceptionHandler {
    @Override
    public int handleParseException(ParameterException e, String[] words) {
        console.say(said(e));
        CommandLine.UnmatchedArgumentException.printSuggestions(e, console.err());
        console.say("'" + e.getCommandLine().getCommandSpec().qualifiedName() + " --help' shows what is possible.");
        return ExitStatus.USAGE;
    }

    /** What is wrong on the line, in plain words where the library speaks of parameters. */
    private static String said(ParameterException e) {
        if (e instanceof CommandLine.MissingParameterException missing
                && !missing.getMissing().isEmpty()) {
            CommandLine.Model.ArgSpec first = missing.getMissing().get(0);
            return first instanceof CommandLine.Model.OptionSpec option
                    ? option.longestName() + " is missing."
                    : "No file or name is given where " + first.paramLabel() + " stands: "
                            + String.join(" ", first.description());
        }
        if (e instanceof CommandLine.UnmatchedArgumentException unmatched && !unmatched.isUnknownOption()) {
            return "'" + String.join("' '", unmatched.getUnmatched()) + "' is not understood here.";
        }
        return String.valueOf(e.getMessage());
    }

    @Override
    public int handleExecutionException(Exception e, CommandLine command, ParseResult parsed) {
        if (debug) {
            e.printStackTrace(console.err());
        }
        Optional<List<Remedy>> refused = e instanceof UnreadableInputException input
                ? Optional.of(input.remedies())
                : e instanceof OutputRefusedException output ? Optional.of(output.remedies()) : Optional.empty();
        if (refused.isPresent() || e instanceof DefinitionFaultsException || e instanceof UsageException) {
            console.say(e.getMessage() + refused.map(RemedyWords::sentences).orElse(""));
            console.say("Nothing was written.");
            return ExitStatus.USAGE;
        }
        if (e instanceof PartPrintedException part) {
            console.say(
                    part.why().getMessage() + RemedyWords.sentences(part.why().remedies()));
            console.say(
                    "Standard output has only a part of the scores. Do not use that part; with --out the file is whole or not there.");
            return ExitStatus.USAGE;
        }
        if (OutputFile.runEnded()) {
            console.say("The run was ended. Every file is whole: the old one or the new.");
            return ExitStatus.FAILURE;
        }
        if (e instanceof ClinicTooLargeException large) {
            console.say(large.getMessage() + " Give it more, such as LUMBRICAL_JAVA_OPTS=-Xmx"
                    + (large.neededMegabytes() * 5 / 4 / 1_000 + 1) + "g, or divide the files by patients.");
            console.say("Nothing was written.");
            return ExitStatus.FAILURE;
        }
        Throwable cause = e instanceof UncheckedIOException unchecked ? unchecked.getCause() : e;
        console.say(
                cause instanceof IOException io
                        ? "The output could not be written: " + reason(io)
                                + ". Free space or check the rights, and run the"
                                + " command again. Every file is whole: the old one or the new."
                        : ownFault(cause));
        return ExitStatus.FAILURE;
    }

    /** Says that the machine failed the program: most often, that it has too little memory. */
    int handleError(Error e) {
        if (debug) {
            e.printStackTrace(console.err());
        }
        console.say(
                e instanceof OutOfMemoryError
                        ? "The memory is too small for this run. Every file is whole: the old one or the new. Give the program"
                                + " more, such as LUMBRICAL_JAVA_OPTS=-Xmx4g, or divide the files by patients, and run the"
                                + " command again."
                        : ownFault(e));
        return ExitStatus.FAILURE;
    }

    private static String ownFault(Throwable e) {
        return "The program failed (" + e.getClass().getSimpleName()
                + "). Every file is whole: the old one or the new. Run the command again with --debug and report what it prints.";
    }

    private static String reason(IOException e) {
        Optional<String> told = e instanceof FileSystemException system
                ? Optional.ofNullable(system.getReason())
                : Optional.ofNullable(e.getMessage());
        return told.orElse("the system refused (" + e.getClass().getSimpleName() + ")");
    }
}
