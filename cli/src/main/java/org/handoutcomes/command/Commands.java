package org.handoutcomes.command;

import java.util.List;

/** The commands there are. */
final class Commands {
    private Commands() {}

    static List<Object> all(Console console) {
        return List.of(
                new ScoreCommand(console),
                new TrackCommand(console),
                new CheckCommand(console),
                new ExplainCommand(console),
                new InstrumentsCommand(console),
                new GripCommand(console),
                new EntryFormCommand(console),
                new DueCommand(console),
                new VerifyCommand(console));
    }
}
