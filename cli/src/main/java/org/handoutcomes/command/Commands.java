package org.handoutcomes.command;

import java.util.LinkedHashMap;
import java.util.Map;
import java.util.function.Function;

/** The commands there are, by name, in the order of the help. */
final class Commands {
    private static final Map<String, Function<Console, Object>> ALL = new LinkedHashMap<>();

    static {
        ALL.put("score", ScoreCommand::new);
        ALL.put("track", TrackCommand::new);
        ALL.put("check", CheckCommand::new);
        ALL.put("explain", ExplainCommand::new);
        ALL.put("instruments", InstrumentsCommand::new);
        ALL.put("grip", GripCommand::new);
        ALL.put("entry-form", EntryFormCommand::new);
        ALL.put("due", DueCommand::new);
        ALL.put("reconcile", ReconcileCommand::new);
        ALL.put("submit", SubmitCommand::new);
        ALL.put("verify", VerifyCommand::new);
    }

    private Commands() {}

    /**
     * The commands to know of: the one that the words ask for, so that no other is loaded; all of them where the words ask for none.
     */
    static Map<String, Object> forWords(Iterable<String> words, Console console) {
        Map<String, Object> commands = new LinkedHashMap<>();
        String first = words.iterator().hasNext() ? words.iterator().next() : "";
        ALL.forEach((name, make) -> {
            if (name.equals(first) || !ALL.containsKey(first)) {
                commands.put(name, make.apply(console));
            }
        });
        return commands;
    }
}
