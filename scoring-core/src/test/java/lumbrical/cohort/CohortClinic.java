package lumbrical.cohort;

import static lumbrical.scoring.ExampleInstrument.PUBLISHED;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.UnaryOperator;
import lumbrical.condition.ConditionVocabulary;
import lumbrical.followup.Episode;
import lumbrical.followup.FollowUpAnalysis;
import lumbrical.followup.FollowUpResult;
import lumbrical.followup.Schedule;
import lumbrical.followup.Visit;
import lumbrical.instrument.ChangeRule;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.InstrumentId;
import lumbrical.instrument.ItemRule;
import lumbrical.instrument.Range;
import lumbrical.instrument.Side;
import lumbrical.instrument.Threshold;
import lumbrical.problem.Place;
import lumbrical.scoring.ExampleInstrument;
import lumbrical.scoring.RequestedColumns;
import lumbrical.scoring.Responses;
import lumbrical.scoring.ScoringPlan;
import lumbrical.sitting.ScoredForm;
import lumbrical.sitting.Sitting;
import lumbrical.threshold.ExampleThreshold;
import lumbrical.threshold.ThresholdChoice;

/**
 * An invented clinic in few words: everybody treated on one day, seen before it, at month 3 and at month 12, by a mark on a line from 0 to
 * 100 ({@code line}) and a rating of change from -3 to 3 ({@code rating}).
 */
final class CohortClinic {
    static final LocalDate INDEX = LocalDate.of(2023, 1, 31);

    static final Schedule SCHEDULE = new Schedule(List.of(
            visit("baseline", 0, -90, 0, Visit.Role.BASELINE),
            visit("month3", 91, 60, 136, Visit.Role.FOLLOW_UP),
            visit("month12", 365, 274, 547, Visit.Role.FOLLOW_UP)));

    static final Map<String, Integer> DAYS = Map.of("baseline", -7, "month3", 91, "month12", 365);

    static final Instrument RATING = ExampleInstrument.called("rating")
            .items(1, ExampleInstrument.codes(-3, 3))
            .scale("total", new ItemRule.Sum(1, PUBLISHED), ExampleInstrument.noneMissing(), new Range(-3, 3))
            .higherIsBetter()
            .change(ChangeRule.Kind.NONE)
            .build();

    private final Instrument line;
    private final List<ScoredForm> forms = new ArrayList<>();
    private final List<Episode> episodes = new ArrayList<>();
    private final List<Instrument> known = new ArrayList<>();
    private Schedule schedule = SCHEDULE;
    private LocalDate asOf = INDEX.plusYears(3);
    private ThresholdChoice choice = ThresholdChoice.DEFAULTS;

    CohortClinic(Instrument line) {
        this.line = line;
        known.add(line);
        known.add(RATING);
    }

    CohortClinic() {
        this(line().build());
    }

    /** A mark from 0 to 100, lower better, with an invented default MCID of 10, another of 20, and an MDC of 15. */
    static ExampleInstrument line() {
        return ExampleInstrument.called("line")
                .items(1, ExampleInstrument.mark(0, 100))
                .scale("total", new ItemRule.Sum(1, PUBLISHED), ExampleInstrument.noneMissing(), new Range(0, 100))
                .defaults("m10", "mdc15", "")
                .threshold(ExampleThreshold.called("m10", Threshold.Kind.MCID)
                        .value(10)
                        .study("ten")
                        .build())
                .threshold(ExampleThreshold.called("m20", Threshold.Kind.MCID)
                        .value(20)
                        .study("twenty")
                        .build())
                .threshold(ExampleThreshold.called("mdc15", Threshold.Kind.MDC)
                        .value(15)
                        .build());
    }

    private static Visit visit(String name, int target, int from, int to, Visit.Role role) {
        return new Visit(name, target, from, to, role, List.of(), true);
    }

    CohortClinic vocabulary(ConditionVocabulary vocabulary) {
        choice = ThresholdChoice.defaults(vocabulary);
        return this;
    }

    CohortClinic choice(ThresholdChoice other) {
        choice = other;
        return this;
    }

    CohortClinic schedule(Schedule other) {
        schedule = other;
        return this;
    }

    CohortClinic knows(Instrument instrument) {
        known.add(instrument);
        return this;
    }

    CohortClinic asOfDay(int day) {
        asOf = INDEX.plusDays(day);
        return this;
    }

    /** An episode of the right side that expects {@code line}. */
    CohortClinic episode(String patient, String id) {
        return episode(patient, id, Side.RIGHT, b -> b);
    }

    CohortClinic episode(String patient, String id, Side side, UnaryOperator<Episode.Builder> more) {
        episodes.add(more.apply(Episode.builder(patient, id, side)
                        .indexDate(INDEX)
                        .forms(List.of(new InstrumentId("line")))
                        .place(Place.of("episodes.csv", episodes.size() + 2)))
                .build());
        return this;
    }

    CohortClinic line(String patient, String id, String visit, double score) {
        return form(patient, id, DAYS.get(visit), line, "1=" + score);
    }

    CohortClinic rating(String patient, String id, String visit, int rating) {
        return form(patient, id, DAYS.get(visit), RATING, "1=" + rating);
    }

    CohortClinic form(String patient, String id, int day, Instrument instrument, String answers) {
        Side side = episodes.stream()
                .filter(e -> e.key().equals(new Episode.Key(patient, id)))
                .map(Episode::treatedSide)
                .findFirst()
                .orElse(Side.RIGHT);
        Sitting sitting = new Sitting(
                patient,
                INDEX.plusDays(day),
                Optional.empty(),
                Optional.of(side),
                Optional.of(id),
                Optional.empty(),
                Optional.empty(),
                Optional.empty(),
                Place.of("responses.csv", forms.size() + 2));
        Responses responses = ExampleInstrument.answers(instrument, answers);
        forms.add(new ScoredForm(
                sitting,
                instrument,
                responses,
                ScoringPlan.of(instrument).score(responses, Optional.of(side), RequestedColumns.NOTHING)));
        return this;
    }

    /** An episode E1 with scores at baseline and month 3. */
    CohortClinic pair(String patient, double before, double after) {
        return episode(patient, "E1").line(patient, "E1", "baseline", before).line(patient, "E1", "month3", after);
    }

    List<ScoredForm> forms() {
        return forms;
    }

    List<Episode> episodes() {
        return episodes;
    }

    FollowUpResult followUp() {
        return FollowUpAnalysis.analyse(forms, episodes, schedule, asOf, choice);
    }

    Optional<Instrument> find(String id) {
        return known.stream().filter(i -> i.id().value().equals(id)).findFirst();
    }

    List<CohortFault> faults(CohortRequest request) {
        return CohortAnalysis.faults(followUp(), request, this::find);
    }

    CohortResult analyse(CohortRequest request) {
        return CohortAnalysis.of(followUp(), choice, request, this::find);
    }

    /** By nothing. */
    CohortResult analyse() {
        return analyse(CohortRequest.builder().by(List.of()).build());
    }

    GroupRow all(String visit) {
        return groupRow(analyse(), "all", visit);
    }

    static GroupRow groupRow(CohortResult result, String group, String visit) {
        return result.standing().groups().stream()
                .filter(r -> is(r.at(), group, visit)
                        && r.at().instrument().id().value().equals("line"))
                .findFirst()
                .orElseThrow();
    }

    static boolean is(RowPlace at, String group, String visit) {
        return at.group().label().equals(group)
                && at.visit().map(Visit::name).equals(Optional.of(visit).filter(v -> !v.isEmpty()));
    }
}
