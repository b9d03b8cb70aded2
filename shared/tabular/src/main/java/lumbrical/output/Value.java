package lumbrical.output;

import java.time.LocalDate;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;

/** The content of one cell. */
public sealed interface Value {
    /** An empty cell. */
    Value BLANK = new Blank();

    /** Nothing. */
    record Blank() implements Value {}

    /** Text that came from the input: guarded against formulas in CSV. */
    record Text(String text) implements Value {}

    /** A word of this program, such as a code; never guarded. */
    record Word(String text) implements Value {}

    /** A number, unrounded. */
    record Number(double value) implements Value {}

    /** A day. */
    record Day(LocalDate day) implements Value {}

    /** Text from the input, blank if empty. */
    static Value text(Optional<String> text) {
        return text.<Value>map(Text::new).orElse(BLANK);
    }

    /** Text from the input. */
    static Value text(String text) {
        return text.isEmpty() ? BLANK : new Text(text);
    }

    /** A word of ours, blank if empty. */
    static Value word(Optional<String> word) {
        return word.<Value>map(Word::new).orElse(BLANK);
    }

    /** A word of ours. */
    static Value word(String word) {
        return word.isEmpty() ? BLANK : new Word(word);
    }

    /** A number. */
    static Value number(double value) {
        return new Number(value);
    }

    /** A number, blank if there is none. */
    static Value number(OptionalDouble value) {
        return value.isPresent() ? new Number(value.getAsDouble()) : BLANK;
    }

    /** A number, blank if there is none. */
    static Value number(OptionalInt value) {
        return value.isPresent() ? new Number(value.getAsInt()) : BLANK;
    }

    /** {@code yes}, {@code no} or blank. */
    static Value yesNo(Optional<Boolean> answer) {
        return answer.<Value>map(yes -> new Word(yes ? "yes" : "no")).orElse(BLANK);
    }

    /** A day. */
    static Value day(LocalDate day) {
        return new Day(day);
    }

    /** A day, blank if there is none. */
    static Value day(Optional<LocalDate> day) {
        return day.<Value>map(Day::new).orElse(BLANK);
    }
}
