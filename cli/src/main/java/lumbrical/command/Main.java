package lumbrical.command;

import java.io.FileDescriptor;
import java.io.FileOutputStream;
import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStreamWriter;
import java.io.PrintWriter;
import java.io.UncheckedIOException;
import java.io.Writer;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import picocli.CommandLine;
import picocli.CommandLine.Model.CommandSpec;

/** Starts the program. */
public final class Main {
    /** Name and version, as shown and as written into outputs. */
    static final String VERSION = version();

    private Main() {}

    /** The build writes it, from the one place where the version stands. */
    private static String version() {
        try (InputStream text = Main.class.getResourceAsStream("version.txt")) {
            return new String(Objects.requireNonNull(text, "version.txt").readAllBytes(), StandardCharsets.UTF_8)
                    .strip();
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

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
        return Optional.ofNullable(System.getProperty("lumbrical.home"))
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
        if (!args.isEmpty() && args.get(0).equals("help")) { // as COMMAND --help
            return run(args.size() == 1 ? List.of("--help") : List.of(args.get(1), "--help"), out, err, home);
        }
        Console console = new Console(out, err, home);
        CommandLine line = commandLine(args, console);
        line.setOut(out);
        line.setErr(err);
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

    private static CommandLine commandLine(List<String> args, Console console) {
        CommandSpec program = new Overview().program;
        for (CommandSpec command : Commands.forWords(args, console)) {
            program.addSubcommand(command.name(), command);
        }
        return new CommandLine(program);
    }

    /** The program with all its commands and options, for the manual and for completion; it is not run. */
    public static CommandLine described() {
        PrintWriter nobody = new PrintWriter(Writer.nullWriter());
        return commandLine(List.of(), new Console(nobody, nobody, Path.of("")));
    }

    /**
     * What the program does when no command is asked for: it shows its help. A class, as {@link Failures} is one: a lambda that holds
     * something of the command-line library would keep that out of the archive of classes.
     */
    private static final class Overview implements Runnable {
        private final CommandSpec program = CommandSpec.wrapWithoutInspection(this);

        Overview() {
            program.name("lumbrical")
                    .version(VERSION)
                    .addOption(CliOption.help())
                    .addOption(CliOption.version());
            Map<String, String> statuses = new LinkedHashMap<>();
            statuses.put("0", "done, no problems");
            statuses.put("1", "done, problems found (outputs written, problems listed)");
            statuses.put("2", "nothing done: wrong usage, or input that cannot be read");
            statuses.put("3", "nothing done: a failure on our side or of the machine");
            program.usageMessage()
                    .description(
                            "Scores hand and wrist questionnaires as their manuals say and follows patients over time.",
                            "Scores support and never replace clinical judgement.")
                    .synopsisSubcommandLabel("COMMAND")
                    .autoWidth(true)
                    .exitCodeListHeading("%nExit status:%n")
                    .exitCodeList(statuses);
        }

        @Override
        public void run() {
            program.commandLine().usage(program.commandLine().getOut());
        }
    }
}
