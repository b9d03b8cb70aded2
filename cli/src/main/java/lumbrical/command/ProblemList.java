package lumbrical.command;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.function.Consumer;
import lumbrical.columns.ProblemColumns;
import lumbrical.output.OutputFile;
import lumbrical.problem.Problem;

/** Gathers problems and notes of a run, prints them and writes them to a file. */
final class ProblemList implements Consumer<Problem> {
    /** How many are shown on the screen; the file lists all. */
    private static final int SHOWN = 50;
    /** How many are kept at most; beyond it they are counted, and the list says so. */
    private static final int KEPT = 200_000;

    private final List<Problem> problems = new ArrayList<>();
    private final List<Problem> notes = new ArrayList<>();
    private long problemCount;
    private long noteCount;

    @Override
    public void accept(Problem problem) {
        if (problem.isNote()) {
            noteCount++;
            keep(notes, problem);
        } else {
            problemCount++;
            keep(problems, problem);
        }
    }

    private static void keep(List<Problem> list, Problem problem) {
        if (list.size() < KEPT) {
            list.add(problem);
        }
    }

    /** Problems, then notes. */
    List<Problem> all() {
        List<Problem> all = new ArrayList<>(problems);
        all.addAll(notes);
        return all;
    }

    int status() {
        return problemCount > 0 ? ExitStatus.PROBLEMS : ExitStatus.DONE;
    }

    /** Prints problems, then notes. */
    void print(Console console, boolean quiet) {
        print(console, problems, problemCount, "problem");
        if (!quiet) {
            print(console, notes, noteCount, "note");
        }
    }

    private static void print(Console console, List<Problem> list, long count, String what) {
        if (count == 0) {
            return;
        }
        console.say(count + " " + what + (count == 1 ? "" : "s") + ":");
        list.stream().limit(SHOWN).forEach(p -> console.say("  " + line(p)));
        if (count > SHOWN) {
            console.say("  and " + (count - SHOWN) + " more; --problems FILE lists all.");
        }
    }

    private static String line(Problem p) {
        return p.place() + ": " + p.code().code() + (p.value().isEmpty() ? "" : " (" + p.value() + ")") + ". "
                + p.advice();
    }

    void write(Optional<OutputFile> file, boolean guard) {
        file.ifPresent(f -> f.writeTable(ProblemColumns.TABLE, all(), guard));
    }
}
