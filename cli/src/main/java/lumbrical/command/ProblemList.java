package lumbrical.command;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.EnumSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.function.Consumer;
import java.util.function.Predicate;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import lumbrical.columns.ProblemColumns;
import lumbrical.intake.DateAdvice;
import lumbrical.output.OutputFile;
import lumbrical.problem.Problem;
import lumbrical.problem.ProblemCode;

/** Gathers problems and notes of a run, prints them and writes them to a file. */
final class ProblemList implements Consumer<Problem> {
    /** How many kinds are shown on the screen; the file lists all. */
    private static final int SHOWN = 50;

    /** What differs between problems of one kind: quoted texts, numbers, and names of people and episodes. */
    private static final Pattern VARIABLE =
            Pattern.compile("'[^']*'|\\b(?:Patient|patient|episode|Episode) [^,:;. ]+|[0-9]+");

    /** How many different words of a kind are shown. */
    private static final int WORDS = 10;

    /** What a clinic may have written in its own words or codes. */
    private static final Set<ProblemCode> IN_THE_CLINICS_WORDS = EnumSet.of(
            ProblemCode.RESPONSE_NOT_ALLOWED,
            ProblemCode.SIDE_NOT_KNOWN,
            ProblemCode.VALUE_NOT_ALLOWED,
            ProblemCode.INSTRUMENT_NOT_KNOWN,
            ProblemCode.ITEM_NOT_KNOWN);

    /** How many are kept at most; beyond it they are counted, and the list says so. */
    private static final int KEPT = 200_000;

    private final List<Problem> problems = new ArrayList<>();
    private final List<Problem> notes = new ArrayList<>();
    private long problemCount;
    private long noteCount;

    @Override
    public void accept(Problem found) {
        if (found.isNote()) {
            noteCount++;
            keep(notes, found);
        } else {
            problemCount++;
            keep(problems, found);
        }
    }

    private static void keep(List<Problem> list, Problem problem) {
        if (list.size() < KEPT) {
            list.add(problem);
        }
    }

    /** Problems, then notes, each with the options that would mend it. */
    List<Problem> all() {
        List<Problem> all = new ArrayList<>(worded(problems));
        all.addAll(worded(notes));
        return all;
    }

    private static List<Problem> worded(List<Problem> list) {
        return DateAdvice.settled(list).stream().map(RemedyWords::worded).toList();
    }

    /** The number of problems that {@code settled} does not settle. */
    long open(Predicate<Problem> settled) {
        return problemCount - problems.stream().filter(settled).count();
    }

    int status() {
        return problemCount > 0 ? ExitStatus.PROBLEMS : ExitStatus.DONE;
    }

    /** Prints problems, then notes. */
    void print(Console console, boolean quiet) {
        print(console, worded(problems), problemCount, "problem");
        if (!quiet) {
            print(console, worded(notes), noteCount, "note");
        }
    }

    private static void print(Console console, List<Problem> list, long count, String what) {
        if (count == 0) {
            return;
        }
        console.say(count + " " + what + (count == 1 ? "" : "s") + ":");
        Map<String, Group> groups = new LinkedHashMap<>();
        list.forEach(p -> groups.computeIfAbsent(kind(p), k -> new Group(p)).add(p));
        groups.values().stream().limit(SHOWN).forEach(group -> {
            console.say("  " + line(group.first)
                    + (group.count == 1 ? "" : " (" + group.count + " of this kind; this is the first)"));
            group.words().ifPresent(console::say);
        });
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

        private final Map<String, Integer> values = new LinkedHashMap<>();

        Group(Problem first) {
            this.first = first;
        }

        void add(Problem problem) {
            count++;
            if (IN_THE_CLINICS_WORDS.contains(problem.code())) {
                values.merge(problem.value(), 1, Integer::sum);
            }
        }

        /** The different words found, the most frequent first: what a map of answers has to hold. */
        Optional<String> words() {
            if (values.size() < 2) {
                return Optional.empty();
            }
            List<Map.Entry<String, Integer>> sorted = new ArrayList<>(values.entrySet());
            sorted.sort(Comparator.comparing(word -> -word.getValue())); // a stable sort: then as they came
            return Optional.of("    found: "
                    + sorted.stream()
                            .limit(WORDS)
                            .map(word -> "'" + word.getKey() + "' " + word.getValue())
                            .collect(Collectors.joining(", "))
                    + (sorted.size() > WORDS ? ", and " + (sorted.size() - WORDS) + " more" : ""));
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
