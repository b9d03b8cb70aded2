package lumbrical.scoring;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Function;
import lumbrical.instrument.Column;
import lumbrical.instrument.Composition;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.ItemRule;
import lumbrical.instrument.Range;
import lumbrical.instrument.Scale;
import lumbrical.instrument.ScaleId;
import lumbrical.instrument.Side;
import lumbrical.number.Memo;

/**
 * An instrument compiled for scoring: arrays of positions and constants that a sitting's responses are run through. Immutable
 * and safe to share between threads.
 *
 * <p>{@link #score} gives results as values. {@link #scoreInto} writes into a reused {@link ScoreBuffer} and allocates nothing,
 * for those who score a million sittings.
 */
public final class ScoringPlan {
    private final Instrument instrument;
    private final ScoringOptions options;
    private final Step[] steps;
    /** The bounds of scores, which come again from sitting to sitting. */
    private static final Memo<Range, Range> BOUNDS = new Memo<>(14, Function.identity());

    private final int slots;
    private final List<Output> outputs;
    private final List<Output> everyStep;
    private final int[] rightColumns;
    private final int[] leftColumns;
    private final int[] rightSlots;
    private final int[] leftSlots;
    private final int[] bothSlots;

    /**
     * One score that the plan can give.
     *
     * @param slot where it stands in a {@link ScoreBuffer}
     * @param scale the scale
     * @param hand the hand asked about, or both averaged; empty for a scale asked of the person
     */
    public record Output(int slot, Scale scale, Optional<Side> hand) {}

    private ScoringPlan(
            Instrument instrument, ScoringOptions options, List<Step> steps, List<Output> everyStep, int slots) {
        this.instrument = instrument;
        this.options = options;
        this.steps = steps.toArray(Step[]::new);
        this.everyStep = List.copyOf(everyStep);
        this.outputs = everyStep.stream().filter(o -> o.scale().reported()).toList();
        this.slots = slots;
        this.rightColumns = columnsOf(instrument, Side.RIGHT);
        this.leftColumns = columnsOf(instrument, Side.LEFT);
        this.rightSlots = slotsOf(Side.RIGHT);
        this.leftSlots = slotsOf(Side.LEFT);
        this.bothSlots = slotsOf(Side.BOTH);
    }

    private int[] slotsOf(Side hand) {
        return everyStep.stream()
                .filter(o -> o.hand().equals(Optional.of(hand)))
                .mapToInt(Output::slot)
                .toArray();
    }

    private static int[] columnsOf(Instrument instrument, Side hand) {
        return instrument.columns().stream()
                .filter(c -> c.hand().equals(Optional.of(hand)))
                .mapToInt(Column::index)
                .toArray();
    }

    /**
     * The plan of an instrument with every rule as its definition states it.
     *
     * @throws IllegalArgumentException if a scale cannot be computed: it needs an item that is not the instrument's, or reads a
     *     table, which holds for complete answers only, although not all items must be answered
     */
    public static ScoringPlan of(Instrument instrument) {
        return of(instrument, ScoringOptions.AS_DEFINED);
    }

    /**
     * The plan of an instrument under {@code options}.
     *
     * @throws IllegalArgumentException as {@link #of(Instrument)}
     */
    public static ScoringPlan of(Instrument instrument, ScoringOptions options) {
        return new Compiler(instrument, options).compile();
    }

    /** The instrument. */
    public Instrument instrument() {
        return instrument;
    }

    /** The options it was compiled with. */
    public ScoringOptions options() {
        return options;
    }

    /** The scores it can give: scales in the order of the definition, right before left before both. */
    public List<Output> outputs() {
        return outputs;
    }

    /** A buffer for {@link #scoreInto}. */
    public ScoreBuffer newBuffer() {
        return new ScoreBuffer(slots);
    }

    /**
     * The scores of one sitting; empty if nothing was answered.
     *
     * @param side the sitting's side; with {@link Side#BOTH} a scale asked of each hand also gives the mean of both
     * @throws IllegalArgumentException if the responses are another instrument's
     */
    public List<ScoreResult> score(Responses responses, Optional<Side> side) {
        return score(responses, side, RequestedColumns.NOTHING);
    }

    /**
     * The scores of one sitting; of a blank form only those of {@code requested} columns and of scales that are always given.
     *
     * @param requested columns whose scales give a row even without an answer
     * @throws IllegalArgumentException if the responses are another instrument's
     */
    public List<ScoreResult> score(Responses responses, Optional<Side> side, RequestedColumns requested) {
        return score(responses, side, requested, outputs, newBuffer());
    }

    /**
     * As {@link #score(Responses, Optional)}, with room given by the caller: nothing is allocated but the results.
     *
     * @param room a buffer of this plan; what it holds afterwards means nothing
     * @throws IllegalArgumentException if the responses are another instrument's
     */
    public List<ScoreResult> score(Responses responses, Optional<Side> side, ScoreBuffer room) {
        return score(responses, side, RequestedColumns.NOTHING, outputs, room);
    }

    /**
     * A score and what was done for it.
     *
     * @param result the score or the reason there is none
     * @param trace what the plan did
     */
    public record Traced(ScoreResult result, ScaleTrace trace) {}

    /**
     * As {@link #score(Responses, Optional)}, with what was done for each score.
     *
     * @throws IllegalArgumentException if the responses are another instrument's
     */
    public List<Traced> trace(Responses responses, Optional<Side> side) {
        requireOwn(responses);
        ScoreBuffer buffer = newBuffer();
        double[] values = buffer.roomFor(responses);
        run(values, 0, side.equals(Optional.of(Side.BOTH)), false, RequestedColumns.NOTHING, side, buffer);
        List<Traced> traced = new ArrayList<>();
        for (int i = 0; i < steps.length; i++) {
            Output output = everyStep.get(i);
            if (output.scale().reported() && buffer.hasRow(output.slot())) {
                traced.add(new Traced(result(output, buffer), steps[i].trace(values, 0, buffer)));
            }
        }
        return List.copyOf(traced);
    }

    private void requireOwn(Responses responses) {
        if (!responses.instrument().equals(instrument)) {
            boolean sameName = responses.instrument().definition().equals(instrument.definition());
            throw new IllegalArgumentException("These are responses to " + responses.instrument() + ", not to "
                    + instrument + (sameName ? ", whose definition states something else" : ""));
        }
    }

    private List<ScoreResult> score(
            Responses responses,
            Optional<Side> side,
            RequestedColumns requested,
            List<Output> wanted,
            ScoreBuffer buffer) {
        requireOwn(responses);
        double[] values = buffer.roomFor(responses);
        run(values, 0, side.equals(Optional.of(Side.BOTH)), false, requested, side, buffer);
        int rows = 0;
        for (Output output : wanted) {
            rows += buffer.hasRow(output.slot()) ? 1 : 0;
        }
        ScoreResult[] results = new ScoreResult[rows];
        int row = 0;
        for (Output output : wanted) {
            if (buffer.hasRow(output.slot())) {
                results[row++] = result(output, buffer);
            }
        }
        return List.of(results);
    }

    /**
     * Scores one sitting into {@code out}.
     *
     * @param responses one value per column of the instrument from {@code offset} on; NaN = not answered
     * @param offset position of the first
     * @param bothHands whether the sitting's side is both
     * @param out a buffer of this plan
     */
    public void scoreInto(double[] responses, int offset, boolean bothHands, ScoreBuffer out) {
        run(responses, offset, bothHands, false, RequestedColumns.NOTHING, Optional.empty(), out);
    }

    /**
     * As {@link #scoreInto}, for responses that a reader has held against the items: each is one that its item allows, or NaN. They
     * are not looked at again; of other responses the scores would mean nothing.
     */
    public void scoreAllowedInto(double[] responses, int offset, boolean bothHands, ScoreBuffer out) {
        run(responses, offset, bothHands, true, RequestedColumns.NOTHING, Optional.empty(), out);
    }

    private void run(
            double[] responses,
            int offset,
            boolean bothHands,
            boolean validated,
            RequestedColumns requested,
            Optional<Side> side,
            ScoreBuffer out) {
        if (requested.isEmpty() && blank(responses, offset)) {
            Arrays.fill(out.outcome, ScoreBuffer.NO_ROW);
            return;
        }
        for (Step step : steps) {
            step.run(responses, offset, validated, requested, out);
        }
        if (rightColumns.length > 0) {
            dropUnaskedHands(responses, offset, bothHands, requested, side, out);
        }
    }

    private boolean blank(double[] responses, int offset) {
        for (int i = offset; i < offset + instrument.columns().size(); i++) {
            if (!Double.isNaN(responses[i])) {
                return false;
            }
        }
        return true;
    }

    private void dropUnaskedHands(
            double[] responses,
            int offset,
            boolean bothHands,
            RequestedColumns requested,
            Optional<Side> side,
            ScoreBuffer out) {
        boolean right = anyEntered(responses, offset, rightColumns);
        boolean left = anyEntered(responses, offset, leftColumns);
        if (!right && !left && !requested.isEmpty()) {
            right = side.isPresent() && side.get().includes(Side.RIGHT);
            left = side.isPresent() && side.get().includes(Side.LEFT);
        }
        if (!right) {
            drop(rightSlots, out);
        }
        if (!left) {
            drop(leftSlots, out);
        }
        if (!bothHands || !right && !left) {
            drop(bothSlots, out);
        }
    }

    private static void drop(int[] slots, ScoreBuffer out) {
        for (int slot : slots) {
            out.outcome[slot] = ScoreBuffer.NO_ROW;
        }
    }

    private static boolean anyEntered(double[] responses, int offset, int[] columns) {
        for (int column : columns) {
            if (!Double.isNaN(responses[offset + column])) {
                return true;
            }
        }
        return false;
    }

    private ScoreResult result(Output output, ScoreBuffer buffer) {
        int slot = output.slot();
        ScaleId scale = output.scale().id();
        int items = buffer.items(slot);
        int answered = buffer.answered(slot);
        if (!buffer.isScored(slot)) {
            Optional<Range> bounds = buffer.hasBounds(slot) ? Optional.of(bounds(buffer, slot)) : Optional.empty();
            return new ScoreResult.NotScored(
                    instrument.definition(), scale, output.hand(), buffer.reason(slot), items, answered, bounds);
        }
        double value = buffer.value(slot);
        Optional<ScoreResult.Precision> precision = buffer.hasStandardError(slot)
                ? Optional.of(new ScoreResult.Precision(buffer.standardError(slot)))
                : Optional.empty();
        return new ScoreResult.Scored(
                instrument.definition(), scale, output.hand(), value, items, answered, bounds(buffer, slot), precision);
    }

    private static Range bounds(ScoreBuffer buffer, int slot) {
        return BOUNDS.of(new Range(buffer.low(slot), buffer.high(slot)));
    }

    /** Lays an instrument's scales out as steps. */
    private static final class Compiler {
        private final Instrument instrument;
        private final ScoringOptions options;
        private final Map<ScaleId, Map<Optional<Side>, Integer>> slotOf = new LinkedHashMap<>();
        private final List<Step> steps = new ArrayList<>();
        private final List<Output> everyStep = new ArrayList<>();
        private int slots;

        Compiler(Instrument instrument, ScoringOptions options) {
            this.instrument = instrument;
            this.options = options;
        }

        ScoringPlan compile() {
            for (Scale scale : instrument.scales()) {
                if (instrument.perHand(scale)) {
                    int right = add(scale, Optional.of(Side.RIGHT));
                    int left = add(scale, Optional.of(Side.LEFT));
                    instrument.facts().bothHands().ifPresent(hands -> {
                        int slot = reserve(scale, Optional.of(Side.BOTH));
                        boolean off = options.publishedOnly() && !hands.published();
                        steps.add(bothHands(scale, slot, right, left, off));
                    });
                } else {
                    add(scale, Optional.empty());
                }
            }
            return new ScoringPlan(instrument, options, steps, everyStep, slots);
        }

        private int reserve(Scale scale, Optional<Side> hand) {
            int slot = slots++;
            slotOf.computeIfAbsent(scale.id(), id -> new LinkedHashMap<>()).put(hand, slot);
            everyStep.add(new Output(slot, scale, hand));
            return slot;
        }

        private int add(Scale scale, Optional<Side> hand) {
            int slot = reserve(scale, hand);
            steps.add(scale.composition()
                    .<Step>fold(
                            made -> itemsStep(scale, made, hand, slot), made -> partsStep(scale, made, hand, slot)));
            return slot;
        }

        private Step itemsStep(Scale scale, Composition.FromItems made, Optional<Side> hand, int slot) {
            int asked = made.items().size();
            if (made.rule() instanceof ItemRule.Table && made.missing().required(asked, false) < asked) {
                throw new IllegalArgumentException("Scale " + scale.id() + " of " + instrument
                        + " reads a table, which holds for complete answers only, but asks for fewer than all items");
            }
            boolean codesPublished = made.items().stream()
                    .allMatch(i -> i.item().responses().provenance().published());
            boolean skipPublished =
                    made.skip().map(skip -> skip.provenance().published()).orElse(true);
            boolean rulePublished = made.rule().provenance().published() && codesPublished && skipPublished;
            boolean missingOff = options.completeOnly()
                    || options.publishedOnly() && !made.missing().provenance().published();
            return new ItemsStep(
                    slot,
                    made,
                    columnsOf(made, hand),
                    options.publishedOnly() && !rulePublished,
                    missingOff,
                    scale.optional() || made.items().size() == 1);
        }

        private int[] columnsOf(Composition.FromItems made, Optional<Side> hand) {
            return made.items().stream()
                    .mapToInt(i -> instrument.column(i.item(), hand).index())
                    .toArray();
        }

        private Step partsStep(Scale scale, Composition.FromParts made, Optional<Side> hand, int slot) {
            int[] parts = made.parts().stream()
                    .mapToInt(part -> slotFor(part.scale(), hand))
                    .toArray();
            double[] shift = made.parts().stream()
                    .mapToDouble(part -> {
                        Range range = instrument.part(part).range();
                        return part.reversed() ? range.low() + range.high() : 0;
                    })
                    .toArray();
            boolean off = options.publishedOnly() && !made.rule().provenance().published();
            return new PartsStep(slot, made, parts, shift, off, scale.optional());
        }

        private int slotFor(ScaleId scale, Optional<Side> hand) {
            Map<Optional<Side>, Integer> hands = slotOf.get(scale);
            return hands.getOrDefault(hand, hands.getOrDefault(Optional.<Side>empty(), -1));
        }

        private Step bothHands(Scale scale, int slot, int right, int left, boolean off) {
            List<Column> shared = instrument.columns().stream()
                    .filter(c -> c.hand().isEmpty() && instrument.uses(scale, c.item()))
                    .toList();
            return new HandsStep(
                    slot,
                    right,
                    left,
                    shared.stream().mapToInt(Column::index).toArray(),
                    shared.stream()
                            .map(c -> AllowedCodes.of(c.item().responses()))
                            .toArray(AllowedCodes[]::new),
                    off);
        }
    }
}
