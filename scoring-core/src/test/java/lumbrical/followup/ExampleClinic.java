package lumbrical.followup;

import java.time.LocalDate;
import java.time.LocalTime;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.function.Consumer;
import java.util.function.Predicate;
import java.util.stream.Stream;
import lumbrical.change.Change;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.Side;
import lumbrical.problem.Place;
import lumbrical.problem.Problem;
import lumbrical.problem.ProblemCode;
import lumbrical.scoring.ExampleInstrument;
import lumbrical.scoring.RequestedColumns;
import lumbrical.scoring.Responses;
import lumbrical.scoring.ScoringPlan;
import lumbrical.sitting.ScoredForm;
import lumbrical.sitting.Sitting;
import lumbrical.threshold.ThresholdChoice;

/** An invented clinic in few words. Sittings stand in rows 2, 3 and so on of the responses. */
final class ExampleClinic {
    private final List<ScoredForm> forms = new ArrayList<>();
    private final List<Episode> episodes = new ArrayList<>();
    private Schedule schedule = Schedule.DEFAULT;
    private LocalDate asOf = LocalDate.of(2026, 11, 25);
    private String patient = "P1";
    private Optional<Side> side = Optional.of(Side.RIGHT);
    private Optional<String> episode = Optional.empty();
    private Optional<LocalTime> time = Optional.empty();
    private Optional<Sitting> sitting = Optional.empty();
    private int row = 1;

    ExampleClinic episodes(ExampleEpisode... made) {
        List.of(made).forEach(e -> episodes.add(e.build()));
        return this;
    }

    ExampleClinic schedule(Visit... visits) {
        schedule = new Schedule(List.of(visits));
        return this;
    }

    ExampleClinic asOfDay(int day) {
        asOf = ExampleEpisode.INDEX.plusDays(day);
        return this;
    }

    /** Whose sittings follow. */
    ExampleClinic of(String name, Optional<Side> hand) {
        patient = name;
        side = hand;
        return this;
    }

    /** The episode that the sittings to follow name. */
    ExampleClinic naming(String id) {
        episode = Optional.of(id);
        return this;
    }

    ExampleClinic at(String clock) {
        time = Optional.of(LocalTime.parse(clock));
        return this;
    }

    /** A sitting of one form, so many days after {@link ExampleEpisode#INDEX}. */
    ExampleClinic sitting(int day, Instrument instrument, String answers) {
        sitting = Optional.of(new Sitting(
                patient,
                ExampleEpisode.INDEX.plusDays(day),
                time,
                side,
                episode,
                Optional.empty(),
                Optional.empty(),
                Optional.empty(),
                Place.of("responses.csv", ++row)));
        return with(instrument, answers);
    }

    /** Another form of the same sitting. */
    ExampleClinic with(Instrument instrument, String answers) {
        return with(instrument, answers, RequestedColumns.NOTHING);
    }

    ExampleClinic with(Instrument instrument, String answers, RequestedColumns named) {
        Responses responses = ExampleInstrument.answers(instrument, answers);
        forms.add(new ScoredForm(
                sitting.orElseThrow(),
                instrument,
                responses,
                ScoringPlan.of(instrument).score(responses, side, named)));
        return this;
    }

    List<ScoredForm> forms() {
        return forms;
    }

    FollowUpResult analyse() {
        return analyse(forms);
    }

    /** The same clinic with its forms in another order. */
    FollowUpResult analyse(List<ScoredForm> inOrder) {
        return FollowUpAnalysis.analyse(inOrder, episodes, schedule, asOf, ThresholdChoice.DEFAULTS);
    }

    /** The same clinic, its episodes handed on. */
    FollowUpResult handOn(Consumer<EpisodeFollowUp> taker) {
        return FollowUpAnalysis.analyse(forms, episodes, schedule, asOf, ThresholdChoice.DEFAULTS, new EpisodeSink() {
            @Override
            public void begins(List<Episode> all, Schedule visits, LocalDate day, ThresholdChoice choice) {
                // they are known here
            }

            @Override
            public void accept(EpisodeFollowUp episode) {
                taker.accept(episode);
            }
        });
    }

    FollowUpOnDemand onDemand(EpisodeSink sink) {
        return FollowUpAnalysis.onDemand(forms, episodes, schedule, asOf, ThresholdChoice.DEFAULTS, sink);
    }

    /** Scores with a place in an episode, in the order of the input. */
    List<AssignedScore> scores() {
        return analyse().forms().stream()
                .flatMap(f -> f.fold(a -> a.scores().stream(), u -> Stream.<AssignedScore>empty()))
                .toList();
    }

    List<ChangeRow> changes() {
        return analyse().changes().toList();
    }

    ChangeRow onlyRow() {
        List<ChangeRow> changes = changes();
        if (changes.size() != 1) {
            throw new AssertionError(changes.size() + " changes");
        }
        return changes.get(0);
    }

    Change onlyChange() {
        return onlyRow().change();
    }

    /** Problems and notes, each as {@code place code value: advice}, but for the note on the default schedule. */
    List<String> problems() {
        return inWords(code -> code != ProblemCode.NOTE_SCHEDULE_MAY_DIFFER);
    }

    /** The note on the default schedule, if there is one. */
    List<String> scheduleNotes() {
        return inWords(code -> code == ProblemCode.NOTE_SCHEDULE_MAY_DIFFER);
    }

    private List<String> inWords(Predicate<ProblemCode> which) {
        return analyse().problems().stream()
                .filter(p -> which.test(p.code()))
                .map(ExampleClinic::inWords)
                .toList();
    }

    private static String inWords(Problem p) {
        return p.place() + " " + p.code().code() + (p.value().isEmpty() ? "" : " " + p.value()) + ": " + p.advice();
    }

    static Visit visit(String name, int target, int from, int to, Visit.Role role) {
        return new Visit(name, target, from, to, role, List.of(), true);
    }
}
