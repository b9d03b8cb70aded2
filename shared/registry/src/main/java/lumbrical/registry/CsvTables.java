package lumbrical.registry;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.function.Function;
import lumbrical.change.BeyondError;
import lumbrical.change.ReachesMcid;
import lumbrical.change.VerdictReason;
import lumbrical.columns.ChangeColumns;
import lumbrical.deidentify.DeidentifiedChange;
import lumbrical.deidentify.DeidentifiedDay;
import lumbrical.deidentify.DeidentifiedEpisode;
import lumbrical.deidentify.DeidentifiedForm;
import lumbrical.deidentify.DeidentifiedScore;
import lumbrical.deidentify.Profile;
import lumbrical.followup.Visit;
import lumbrical.followup.VisitAssignment;
import lumbrical.instrument.Column;
import lumbrical.instrument.Side;
import lumbrical.output.OutputColumn;
import lumbrical.output.Value;
import lumbrical.scoring.Reason;
import lumbrical.scoring.ScoreResult;

/** The columns of the CSV files. */
final class CsvTables {
    /** A response of a form. */
    record ResponseRow(DeidentifiedEpisode episode, DeidentifiedForm form, Column column) {}

    /** A score of a form. */
    record SentScore(DeidentifiedEpisode episode, DeidentifiedForm form, DeidentifiedScore score) {}

    private final Profile profile;

    CsvTables(Profile profile) {
        this.profile = profile;
    }

    private static <R> OutputColumn<R> text(String name, String meaning, Function<R, Value> of) {
        return new OutputColumn<>(name, meaning, OutputColumn.Kind.TEXT, of);
    }

    private static <R> OutputColumn<R> number(String name, String meaning, Function<R, Value> of) {
        return new OutputColumn<>(name, meaning, OutputColumn.Kind.NUMBER, of);
    }

    private static <R> List<OutputColumn<R>> sender(Function<R, DeidentifiedEpisode> episode) {
        return List.of(
                text(
                        "site",
                        "The sending clinic, as the receiver calls it",
                        r -> Value.word(episode.apply(r).sender().site())),
                text(
                        "study",
                        "The study or registry, as the receiver calls it",
                        r -> Value.word(episode.apply(r).sender().study())));
    }

    /** The week; or year and day; or the shifted date and day. */
    private <R> List<OutputColumn<R>> day(String prefix, String of, Function<R, Optional<DeidentifiedDay>> day) {
        List<OutputColumn<R>> columns = new ArrayList<>();
        switch (profile.dates()) {
            case WEEKS_FROM_INDEX -> {
                columns.add(number(
                        prefix + "week",
                        of + ": whole weeks from the index date, rounded down; days 0 to 6 are week 0",
                        r -> day.apply(r).map(d -> Value.number(d.week())).orElse(Value.BLANK)));
                return columns;
            }
            case SHIFTED ->
                columns.add(new OutputColumn<>(
                        prefix + "date",
                        of + ": date moved by a secret number of days",
                        OutputColumn.Kind.DATE,
                        r -> Value.day(day.apply(r).flatMap(DeidentifiedDay::shifted))));
            case DAYS_FROM_INDEX ->
                columns.add(number(prefix + "year", of + ": calendar year", r -> day.apply(r)
                        .map(d -> Value.number(d.year()))
                        .orElse(Value.BLANK)));
        }
        columns.add(number(prefix + "day", of + ": days from the index date", r -> day.apply(r)
                .map(d -> Value.number(d.day()))
                .orElse(Value.BLANK)));
        return columns;
    }

    List<OutputColumn<DeidentifiedEpisode>> episodes() {
        List<OutputColumn<DeidentifiedEpisode>> c = new ArrayList<>();
        c.addAll(sender(e -> e));
        c.add(text("subject", "Pseudonym of the patient", e -> Value.word(e.subject())));
        c.add(text("episode", "Pseudonym of the episode: one treatment of one side", e -> Value.word(e.id())));
        c.add(text(
                "treated_side",
                "right or left; blank where it was left blank",
                e -> Value.word(e.treatedSide().map(Side::code))));
        if (profile.dates() != Profile.Dates.WEEKS_FROM_INDEX) { // week 0 of every episode says nothing
            c.addAll(day("index_", "Operation or treatment start", DeidentifiedEpisode::index));
        }
        for (Profile.AllowedColumn column : profile.columns()) {
            if (!List.of("mode", "respondent", "language").contains(column.name())) {
                boolean number = List.of("age", "closed_day", "closed_week").contains(column.name());
                c.add(new OutputColumn<>(
                        column.name(),
                        meaning(column),
                        number ? OutputColumn.Kind.NUMBER : OutputColumn.Kind.TEXT,
                        e -> attribute(Optional.ofNullable(e.attributes().get(column.name())), number)));
            }
        }
        return c;
    }

    private static String meaning(Profile.AllowedColumn column) {
        return switch (column.name()) {
            case "age" -> "Age in years at the index date; 90 stands for 90 and over";
            case "age_band" -> "Age at the index date, by tens; 90+ stands for 90 and over";
            case "closed_week" -> "Week after which nothing is due, from the index date";
            case "closed_day" -> "Day after which nothing is due, from the index date";
            default -> "As in the episodes, values on the profile's list only";
        };
    }

    private static Value attribute(Optional<String> text, boolean number) {
        return number ? text.map(t -> Value.number(Double.parseDouble(t))).orElse(Value.BLANK) : Value.text(text);
    }

    private <R> List<OutputColumn<R>> form(
            Function<R, DeidentifiedEpisode> episode, Function<R, DeidentifiedForm> form) {
        List<OutputColumn<R>> c = new ArrayList<>(sender(episode));
        c.add(text(
                "subject",
                "Pseudonym of the patient",
                r -> Value.word(episode.apply(r).subject())));
        c.add(text(
                "episode",
                "Pseudonym of the episode",
                r -> Value.word(episode.apply(r).id())));
        c.add(text(
                "form",
                "Key of the form: stays the same when it is sent again",
                r -> Value.word(form.apply(r).key())));
        c.addAll(day("", "The sitting", r -> Optional.of(form.apply(r).day())));
        c.add(text(
                "visit",
                "Visit of the schedule whose window holds the day, else " + VisitAssignment.UNSCHEDULED,
                r -> Value.text(form.apply(r).visit().map(Visit::name).orElse(VisitAssignment.UNSCHEDULED))));
        c.add(text(
                "instrument",
                "Instrument id",
                r -> Value.word(form.apply(r).instrument().id().value())));
        return c;
    }

    List<OutputColumn<ResponseRow>> responses() {
        List<OutputColumn<ResponseRow>> c = new ArrayList<>(form(ResponseRow::episode, ResponseRow::form));
        for (String name : List.of("mode", "respondent", "language")) {
            profile.column(name)
                    .ifPresent(column -> c.add(text(
                            name,
                            "As in the responses, allowed values only",
                            r -> Value.text(
                                    Optional.ofNullable(r.form().attributes().get(name))))));
        }
        c.add(text(
                "side",
                "Side written on the form",
                r -> Value.word(r.form().side().map(Side::code))));
        c.add(text(
                "item",
                "Item of the instrument, with its hand where asked of each",
                r -> Value.word(r.column().shortName())));
        c.add(number("response", "Code or number answered; blank if there is none", CsvTables::response));
        c.add(text(
                "status",
                "answered, not-answered, not-allowed (an entry that the item does not have; it is not sent), or withheld"
                        + " (nothing about this hand leaves, whether or not anything was answered)",
                r -> Value.word(status(r))));
        return c;
    }

    private static boolean allowed(ResponseRow r) {
        return r.form().responses().allowed(r.column()).isPresent();
    }

    private static Value response(ResponseRow r) {
        return Value.number(r.form().responses().allowed(r.column()));
    }

    private static String status(ResponseRow r) {
        if (r.form().holdsBack(r.column())) {
            return "withheld";
        }
        if (!r.form().responses().entered(r.column().index())) {
            return "not-answered";
        }
        return allowed(r) ? "answered" : "not-allowed";
    }

    private static OutputColumn<SentScore> id() {
        return text(
                "score_id",
                "Key of the score: the form's key, the scale and the hand",
                r -> Value.word(r.form().key() + "/" + r.score().key()));
    }

    List<OutputColumn<SentScore>> scores() {
        List<OutputColumn<SentScore>> c = new ArrayList<>();
        c.add(id());
        c.addAll(form(SentScore::episode, SentScore::form));
        c.add(text(
                "side",
                "The hand asked about, else the side written on the form",
                r -> Value.word(r.score().side(r.form()).map(Side::code))));
        c.add(text("scale", "Scale id", r -> Value.word(r.score().scale().id().value())));
        c.add(number("score", "The score by the instrument's manual; blank if there is none", r -> r.score()
                .result()
                .scored()
                .map(s -> Value.number(s.value()))
                .orElse(Value.BLANK)));
        c.add(text(
                "outcome",
                "complete, with-missing or not-scored",
                r -> Value.word(r.score().result().outcome().code())));
        c.add(text(
                "reason",
                "Why there is no score",
                r -> Value.word(r.score().result().reason().map(Reason::code))));
        c.add(number(
                "items",
                "Items that count",
                r -> Value.number(r.score().result().items())));
        c.add(number(
                "answered",
                "Of these, answered",
                r -> Value.number(r.score().result().answered())));
        c.add(number(
                "lowest",
                "Lowest score under any answers to the open items",
                r -> bound(r.score().result(), true)));
        c.add(number(
                "highest",
                "Highest score under any answers to the open items",
                r -> bound(r.score().result(), false)));
        c.add(text(
                "better",
                "lower or higher",
                r -> Value.word(r.score().scale().better().code())));
        c.add(text(
                "definition",
                "Definition and version",
                r -> Value.word(r.form().instrument().definition())));
        c.add(number("standard_error", "Standard error, where the scale has one", r -> r.score()
                .result()
                .scored()
                .flatMap(ScoreResult.Scored::precision)
                .map(p -> Value.number(p.standardError()))
                .orElse(Value.BLANK)));
        c.add(text(
                "use",
                "baseline, follow-up, or blank where it does not count",
                r -> Value.word(
                        switch (r.score().use()) {
                            case BASELINE -> "baseline";
                            case FOLLOW_UP -> "follow-up";
                            case NOT_USED -> "";
                        })));
        return c;
    }

    private static Value bound(ScoreResult result, boolean low) {
        return result.bounds().map(b -> Value.number(low ? b.low() : b.high())).orElse(Value.BLANK);
    }

    List<OutputColumn<SentScore>> changes() {
        List<OutputColumn<SentScore>> c = new ArrayList<>();
        c.add(id());
        c.addAll(form(SentScore::episode, SentScore::form));
        c.add(text(
                "side",
                "The hand asked about, else the side of the form",
                r -> Value.word(r.score().side(r.form()).map(Side::code))));
        c.add(text("scale", "Scale id", r -> Value.word(r.score().scale().id().value())));
        c.add(text(
                "used",
                "yes for the sitting that counts in its window",
                r -> Value.word(change(r).used() ? "yes" : "no")));
        c.add(text(
                "baseline_form",
                "Key of the baseline form",
                r -> Value.word(change(r).baselineKey())));
        c.addAll(day("baseline_", "The baseline", r -> change(r).baselineOn()));
        c.add(number(
                "baseline",
                "Baseline score",
                r -> Value.number(change(r).change().baseline())));
        c.add(number(
                "change",
                "Follow-up minus baseline",
                r -> Value.number(change(r).change().change())));
        c.add(number(
                "improvement",
                "Positive when the person got better",
                r -> Value.number(change(r).change().improvement())));
        c.add(number("lowest_improvement", "Lowest improvement under the bounds of both scores", r -> change(r)
                .change()
                .improvementBounds()
                .map(b -> Value.number(b.low()))
                .orElse(Value.BLANK)));
        c.add(number("highest_improvement", "Highest improvement under the bounds of both scores", r -> change(r)
                .change()
                .improvementBounds()
                .map(b -> Value.number(b.high()))
                .orElse(Value.BLANK)));
        c.add(number("mdc", "MDC used", r -> change(r)
                .change()
                .thresholds()
                .mdc()
                .map(t -> Value.number(t.value()))
                .orElse(Value.BLANK)));
        c.add(text(
                "mdc_source",
                "Where it comes from",
                r -> Value.text(change(r).change().thresholds().mdc().map(ChangeColumns::cite))));
        c.add(number("mcid", "MCID used", r -> change(r)
                .change()
                .thresholds()
                .mcid()
                .map(t -> Value.number(t.value()))
                .orElse(Value.BLANK)));
        c.add(text(
                "mcid_source",
                "Where it comes from",
                r -> Value.text(change(r).change().thresholds().mcid().map(ChangeColumns::cite))));
        c.add(text(
                "beyond_error",
                "Whether the change, either way, is at least the MDC",
                r -> Value.word(change(r).change().beyondError().map(BeyondError::code))));
        c.add(text(
                "reaches_mcid",
                "Whether the change is at least the MCID",
                r -> Value.word(change(r).change().reachesMcid().map(ReachesMcid::code))));
        c.add(text(
                "verdict",
                "Both questions together",
                r -> Value.word(change(r).change().verdict().code())));
        c.add(text(
                "verdict_reason",
                "Why a change is not assessable",
                r -> Value.word(change(r).change().reason().map(VerdictReason::code))));
        c.add(text(
                "gaps_could_change_verdict",
                "yes if answers to the unanswered items could have turned the verdict",
                r -> Value.yesNo(change(r).change().gapsCouldChangeVerdict())));
        return c;
    }

    private static DeidentifiedChange change(SentScore row) {
        return row.score().change().orElseThrow();
    }
}
