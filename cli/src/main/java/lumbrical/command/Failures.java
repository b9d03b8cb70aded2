package lumbrical.command;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.FileSystemException;
import java.util.Optional;
import lumbrical.catalogue.DefinitionFaultsException;
import lumbrical.output.OutputFile;
import lumbrical.output.OutputRefusedException;
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
        console.say(e.getMessage());
        CommandLine.UnmatchedArgumentException.printSuggestions(e, console.err());
        console.say("'" + e.getCommandLine().getCommandSpec().qualifiedName() + " --help' shows what is possible.");
        return ExitStatus.USAGE;
    }

    @Override
    public int handleExecutionException(Exception e, CommandLine command, ParseResult parsed) {
        if (debug) {
            e.printStackTrace(console.err());
        }
        if (e instanceof UnreadableInputException
                || e instanceof DefinitionFaultsException
                || e instanceof UsageException
                || e instanceof OutputRefusedException) {
            console.say(e.getMessage());
            console.say("Nothing was written.");
            return ExitStatus.USAGE;
        }
        if (OutputFile.runEnded()) {
            console.say("The run was ended. Every file is whole: the old one or the new.");
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
                                + " more, such as LUMBRICAL_JAVA_OPTS=-Xmx4g, or divide the files, and run the command again."
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
