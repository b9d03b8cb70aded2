package lumbrical.command;

import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.Callable;
import picocli.CommandLine.Model.CommandSpec;

/** The commands there are, by name, in the order of the help. */
final class Commands {
    private static final List<String> NAMES = List.of(
            "score",
            "track",
            "check",
            "explain",
            "instruments",
            "grip",
            "entry-form",
            "due",
            "cohort",
            "page",
            "reconcile",
            "submit",
            "verify");

    private Commands() {}

    /** The commands to know of: the one that the words ask for, so that no other is loaded; all of them where they ask for none. */
    static List<CommandSpec> forWords(List<String> words, Console console) {
        boolean named = !words.isEmpty() && NAMES.contains(words.get(0));
        List<CommandSpec> commands = new ArrayList<>();
        for (String name : named ? List.of(words.get(0)) : NAMES) {
            commands.add(spec(name, command(name, console)));
        }
        return commands;
    }

    private static Command command(String name, Console console) {
        return switch (name) {
            case "score" -> new ScoreCommand(console);
            case "track" -> new TrackCommand(console);
            case "check" -> new CheckCommand(console);
            case "explain" -> new ExplainCommand(console);
            case "instruments" -> new InstrumentsCommand(console);
            case "grip" -> new GripCommand(console);
            case "entry-form" -> new EntryFormCommand(console);
            case "due" -> new DueCommand(console);
            case "cohort" -> new CohortCommand(console);
            case "page" -> new PageCommand(console);
            case "reconcile" -> new ReconcileCommand(console);
            case "submit" -> new SubmitCommand(console);
            case "verify" -> new VerifyCommand(console);
            default -> throw new IllegalArgumentException(name + " is no command");
        };
    }

    /**
     * A command that first sees that it would write over nothing that it reads. No record: the command-line library would ask for its
     * hash, for which code is made at run time.
     */
    private static final class Careful implements Callable<Integer> {
        private final Command command;

        Careful(Command command) {
            this.command = command;
        }

        @Override
        public Integer call() {
            NamedFiles.refuseLoss(command.options().toList());
            return command.call();
        }
    }

    /** A command as the command-line library knows it. */
    private static CommandSpec spec(String name, Command command) {
        CommandSpec spec =
                CommandSpec.wrapWithoutInspection(new Careful(command)).name(name);
        spec.usageMessage()
                .description(command.description().toArray(String[]::new))
                .sortOptions(false);
        for (CliOption word : command.options().toList()) { // no lambda: see Failures
            spec.add(word.spec());
        }
        return spec.addOption(CliOption.help());
    }
}
