package org.handoutcomes.command;

import java.io.FileDescriptor;
import java.io.FileOutputStream;
import java.io.OutputStreamWriter;
import java.io.PrintWriter;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Spec;

/** Starts the program. */
@Command(
        name = "hand-outcomes",
        description = {
            "Scores hand and wrist questionnaires as their manuals say and follows patients over time.",
            "Scores support and never replace clinical judgement."
        },
        version = Main.VERSION,
        synopsisSubcommandLabel = "COMMAND",
        usageHelpAutoWidth = true,
        exitCodeListHeading = "%nExit status:%n",
        exitCodeList = {
            "0:done, no problems",
            "1:done, problems found (outputs written, problems listed)",
            "2:nothing done: wrong usage, or input that cannot be read",
            "3:nothing done: a failure on our side or of the machine"
        })
public final class Main implements Runnable {
    /** Name and version, as shown and as written into outputs. */
    static final String VERSION = "hand-outcomes 0.1.0";

    @Spec
    private CommandSpec spec;

    @CommandLine.Option(names = "--help", usageHelp = true, description = "Show this help.")
    private boolean help;

    @CommandLine.Option(names = "--version", versionHelp = true, description = "Show the version.")
    private boolean version;

    private Main() {}

    /** Runs the program and ends the process with its status. */
    public static void main(String[] args) {
        // The workbook library logs through an interface without a provider; nothing of it is for a user.
        System.setProperty("log4j2.loggerContextFactory", "org.apache.logging.log4j.simple.SimpleLoggerContextFactory");
        System.setProperty("org.apache.logging.log4j.simplelog.level", "OFF");
        // The command-line library would look through every jar for a class of a language that is not used here.
        System.setProperty("picocli.disable.closures", "true");
        PrintWriter out = utf8(FileDescriptor.out);
        PrintWriter err = utf8(FileDescriptor.err);
        int status = run(List.of(args), out, err, home());
        out.flush();
        err.flush();
        System.exit(status);
    }

    private static PrintWriter utf8(FileDescriptor descriptor) {
        return new PrintWriter(new OutputStreamWriter(new FileOutputStream(descriptor), StandardCharsets.UTF_8), false);
    }

    /** The installation: told by the launcher, else two folders above the jar. */
    private static Path home() {
        return Optional.ofNullable(System.getProperty("handoutcomes.home"))
                .map(Path::of)
                .orElseGet(() -> Path.of(""));
    }

    /**
     * Runs the program.
     *
     * @param args the words of the command
     * @param out takes data
     * @param err takes messages
     * @param home the installation's folder
     * @return the exit status
     */
    static int run(List<String> args, PrintWriter out, PrintWriter err, Path home) {
        Console console = new Console(out, err, home);
        CommandLine line = new CommandLine(new Main());
        for (Map.Entry<String, Object> command :
                Commands.forWords(args, console).entrySet()) {
            line.addSubcommand(command.getKey(), command.getValue());
        }
        line.setOut(out);
        line.setErr(err);
        line.setCaseInsensitiveEnumValuesAllowed(true);
        Failures failures = new Failures(console, args.contains("--debug"));
        line.setParameterExceptionHandler(failures);
        line.setExecutionExceptionHandler(failures);
        int status;
        try {
            status = line.execute(args.toArray(new String[0]));
        } catch (Error e) { // the command-line library hands on exceptions only
            status = failures.handleError(e);
        }
        if (out.checkError()) { // a printer keeps its failures to itself
            console.say("Standard output took only a part (disk full, or the program that reads it has ended)."
                    + " Do not use that part; run the command again.");
            status = ExitStatus.FAILURE;
        }
        err.flush();
        return status;
    }

    @Override
    public void run() {
        spec.commandLine().usage(spec.commandLine().getOut());
    }
}
