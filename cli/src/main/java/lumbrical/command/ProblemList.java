package lumbrical.command;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Consumer;
import java.util.regex.Pattern;
import lumbrical.columns.ProblemColumns;
import lumbrical.output.OutputFile;
import lumbrical.problem.Problem;

/** Gathers problems and notes of a run, prints them and writes them to a file. */
final class ProblemList implements Consumer<Problem> {
    /** How many kinds are shown on the screen; the file lists all. */
    private static final int SHOWN = 50;

    /** What differs between problems of one kind: quoted texts, numbers, and names of people and episodes. */
    private static final Pattern VARIABLE =
            Pattern.compile("'[^']*'|\\b(?:Patient|patient|episode|Episode) [^,:;. ]+|[0-9]+");

    /** How many are kept at most; beyond it they are counted, and the list says so. */
    private static final int KEPT = 200_000;

    private final List<Problem> problems = new ArrayList<>();
    private final List<Problem> notes = new ArrayList<>();
    private long problemCount;
    private long noteCount;

    @Override
    public void accept(Problem found) {
        Problem problem = RemedyWords.worded(found);
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
        Map<String, Group> groups = new LinkedHashMap<>();
        list.forEach(p -> groups.computeIfAbsent(kind(p), k -> new Group(p)).count++);
        groups.values().stream()
                .limit(SHOWN)
                .forEach(group -> console.say("  " + line(group.first)
                        + (group.count == 1 ? "" : " (" + group.count + " of this kind; this is the first)")));
        if (groups.size() > SHOWN || groups.size() < count) {
            console.say("  --problems FILE lists every one"
                    + (groups.size() > SHOWN
                            ? "; " + (groups.size() - SHOWN) + " more kinds are not shown here."
                            : "."));
        }
    }

    /** Problems that differ in nothing but the row, the value and the names and numbers in their advice. */
    private static final class Group {
        private final Problem first;
        private long count;

        Group(Problem first) {
            this.first = first;
        }
    }

    private static String kind(Problem p) {
        return p.code() + " " + p.place().file() + " "
                + VARIABLE.matcher(p.advice()).replaceAll("#");
    }

    private static String line(Problem p) {
        return p.place() + ": " + p.code().code() + (p.value().isEmpty() ? "" : " (" + p.value() + ")") + ". "
                + p.advice();
    }

    void write(Optional<OutputFile> file, OutputOptions options) {
        file.ifPresent(f -> TableOutput.write(f, ProblemColumns.TABLE, all(), options));
    }
}
