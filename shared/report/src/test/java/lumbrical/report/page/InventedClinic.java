package lumbrical.report.page;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.TreeMap;
import java.util.function.UnaryOperator;
import lumbrical.followup.Episode;
import lumbrical.followup.FollowUpAnalysis;
import lumbrical.followup.FollowUpResult;
import lumbrical.followup.Schedule;
import lumbrical.instrument.ChangeRule;
import lumbrical.instrument.Composition;
import lumbrical.instrument.Direction;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.InstrumentId;
import lumbrical.instrument.Item;
import lumbrical.instrument.ItemId;
import lumbrical.instrument.ItemRule;
import lumbrical.instrument.Metric;
import lumbrical.instrument.MissingRule;
import lumbrical.instrument.Provenance;
import lumbrical.instrument.Range;
import lumbrical.instrument.ResponseSet;
import lumbrical.instrument.Scale;
import lumbrical.instrument.ScaleId;
import lumbrical.instrument.Side;
import lumbrical.instrument.Standing;
import lumbrical.instrument.Threshold;
import lumbrical.problem.Place;
import lumbrical.report.ReportContent;
import lumbrical.report.ReportOrigin;
import lumbrical.scoring.Responses;
import lumbrical.scoring.ScoringOptions;
import lumbrical.scoring.ScoringPlan;
import lumbrical.sitting.ScoredForm;
import lumbrical.sitting.Sitting;
import lumbrical.threshold.ThresholdChoice;

/** An invented questionnaire of ten questions from 0 to 10, their sum the score, and patients who fill it in. */
public final class InventedClinic {
    /** The treatment of every episode. */
    public static final LocalDate TREATED = LocalDate.of(2024, 1, 1);

    private static final Provenance INVENTED = new Provenance(Standing.PUBLISHED, "invented");
    private static final int ITEMS = 10;

    private final List<Episode> episodes = new ArrayList<>();
    private final List<ScoredForm> forms = new ArrayList<>();
    private Schedule schedule = Schedule.DEFAULT;
    private LocalDate asOf = LocalDate.of(2027, 1, 1);

    /** What can be different of the questionnaire. */
    public static final class Questionnaire {
        private String id = "invented";
        private String version = "1";
        private int scales = 1;
        private Direction better = Direction.LOWER;
        private boolean perHand;
        private int needed = 8;
        private ChangeRule.Kind change = ChangeRule.Kind.DIFFERENCE;
        private OptionalDouble mcid = OptionalDouble.of(15);
        private String method = "invented";
        private OptionalDouble mdc = OptionalDouble.of(10);
        private int judgedFrom;

        public Questionnaire id(String text) {
            id = text;
            return this;
        }

        public Questionnaire version(String text) {
            version = text;
            return this;
        }

        /** So many scales, each the sum of all questions. */
        public Questionnaire scales(int count) {
            scales = count;
            return this;
        }

        public Questionnaire higherIsBetter() {
            better = Direction.HIGHER;
            return this;
        }

        public Questionnaire perHand() {
            perHand = true;
            return this;
        }

        public Questionnaire needed(int answers) {
            needed = answers;
            return this;
        }

        public Questionnaire change(ChangeRule.Kind kind) {
            change = kind;
            return this;
        }

        /** The MCID comes from the spread of scores alone. */
        public Questionnaire bySpread() {
            method = "distribution";
            return this;
        }

        public Questionnaire thresholds(OptionalDouble smallestImportant, OptionalDouble smallestDetectable) {
            mcid = smallestImportant;
            mdc = smallestDetectable;
            return this;
        }

        public Questionnaire judgedFrom(int day) {
            judgedFrom = day;
            return this;
        }

        public Instrument build() {
            ResponseSet marks = new ResponseSet.Continuous("mark", new Range(0, 10), new TreeMap<>(), INVENTED);
            List<Item> items = new ArrayList<>();
            for (int i = 1; i <= ITEMS; i++) {
                items.add(new Item(
                        new ItemId(String.valueOf(i)),
                        "invented topic " + i,
                        "published",
                        marks,
                        better,
                        Optional.empty(),
                        perHand,
                        Optional.empty(),
                        Optional.empty(),
                        Optional.empty()));
            }
            Composition made = new Composition.FromItems(
                    items.stream().map(i -> new Composition.ScaleItem(i, false)).toList(),
                    new ItemRule.Sum(1, INVENTED),
                    new MissingRule.MeanOfAnswered(
                            new MissingRule.Minimum.Answered(needed),
                            MissingRule.StatedBy.MANUAL,
                            INVENTED,
                            Optional.empty()),
                    Optional.empty());
            List<Scale> all = new ArrayList<>();
            List<Threshold> thresholds = new ArrayList<>();
            for (int i = 1; i <= scales; i++) {
                ScaleId scale = new ScaleId(scales == 1 ? "total" : "part" + i);
                mcid.ifPresent(v -> thresholds.add(threshold("mcid-" + scale, scale, Threshold.Kind.MCID, v)));
                mdc.ifPresent(v -> thresholds.add(threshold("mdc-" + scale, scale, Threshold.Kind.MDC, v)));
                all.add(Scale.builder(scale, scales == 1 ? "Total" : "Part " + i, made, new Range(0, 100), Metric.SUM)
                        .better(better)
                        .noVerdictBefore(
                                judgedFrom == 0
                                        ? Optional.empty()
                                        : Optional.of(new Scale.NoVerdictBefore(judgedFrom, "invented", INVENTED)))
                        .defaults(Optional.of(new Scale.Defaults(
                                mcid.isPresent() ? Optional.of("mcid-" + scale) : Optional.empty(),
                                mdc.isPresent() ? Optional.of("mdc-" + scale) : Optional.empty(),
                                Optional.empty(),
                                "invented")))
                        .build());
            }
            return Instrument.builder(new InstrumentId(id), version)
                    .title(id.equals("invented") ? "Invented score" : "Invented score " + id)
                    .items(items)
                    .scales(all)
                    .thresholds(thresholds)
                    .change(new ChangeRule(change, INVENTED, Optional.empty()))
                    .build();
        }

        private Threshold threshold(String name, ScaleId scale, Threshold.Kind kind, double value) {
            return Threshold.builder(name, scale, kind, Metric.SUM, INVENTED)
                    .value(value)
                    .better(better)
                    .population("invented people", Threshold.Group.HAND_WRIST)
                    .method(method)
                    .build();
        }
    }

    /** An episode of the right hand, treated on {@link #TREATED}. */
    public static Episode.Builder episode(String patient, String id) {
        return Episode.builder(patient, id, Side.RIGHT).indexDate(TREATED).condition(Optional.of("invented condition"));
    }

    public InventedClinic with(Episode episode) {
        episodes.add(episode);
        return this;
    }

    public InventedClinic schedule(Schedule visits) {
        schedule = visits;
        return this;
    }

    public InventedClinic asOf(LocalDate day) {
        asOf = day;
        return this;
    }

    /** A form on a day after the treatment whose first {@code answered} questions each hold {@code each}. */
    public InventedClinic form(
            String patient, String episode, int day, Instrument instrument, int answered, double each) {
        return form(patient, episode, day, instrument, 0, answered, each);
    }

    /** As above, from the question after the first {@code skipped} ones on. */
    public InventedClinic form(
            String patient, String episode, int day, Instrument instrument, int skipped, int answered, double each) {
        return form(patient, episode, day, instrument, responses -> {
            instrument.columns().stream()
                    .filter(c -> c.hand().isEmpty() || c.hand().get() == Side.RIGHT)
                    .skip(skipped)
                    .limit(answered)
                    .forEach(c -> responses.answer(c.index(), each));
            return responses;
        });
    }

    /** A form filled in as {@code filling} says. */
    public InventedClinic form(
            String patient, String episode, int day, Instrument instrument, UnaryOperator<Responses.Builder> filling) {
        Sitting sitting = new Sitting(
                patient,
                TREATED.plusDays(day),
                Optional.empty(),
                Optional.of(Side.RIGHT),
                Optional.of(episode),
                Optional.empty(),
                Optional.empty(),
                Optional.empty(),
                Place.of("invented.csv", forms.size() + 2));
        Responses responses = filling.apply(Responses.builder(instrument)).build();
        forms.add(new ScoredForm(
                sitting, instrument, responses, ScoringPlan.of(instrument).score(responses, sitting.side())));
        return this;
    }

    public FollowUpResult result() {
        return FollowUpAnalysis.analyse(forms, episodes, schedule, asOf, choice());
    }

    public ThresholdChoice choice() {
        return ThresholdChoice.DEFAULTS;
    }

    /** All that a page is made from. */
    public ReportContent content() {
        return new ReportContent(
                result(),
                choice(),
                ScoringOptions.AS_DEFINED,
                new ReportOrigin("invented 1", List.of(), List.of(), "rows read 0"));
    }
}
