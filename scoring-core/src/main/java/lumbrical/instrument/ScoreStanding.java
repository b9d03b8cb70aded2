package lumbrical.instrument;

import java.util.Optional;

/** How sure a score can be: the weakest standing of what it rests on. */
public final class ScoreStanding {
    private ScoreStanding() {}

    /**
     * The weakest standing among the codes and keying of the scale's items (they stand with their response set and with the
     * formula), the formula, a skip that the form allows and, if it was used, the missing-item rule; of a scale of scales also
     * among those of its parts.
     *
     * @param missingRuleUsed whether an unanswered item was filled in under the missing-item rule, in the scale or in a part
     * @throws IllegalArgumentException if a part is no scale of the instrument
     */
    public static Standing of(Instrument instrument, Scale scale, boolean missingRuleUsed) {
        return scale.composition().fold(made -> ofItems(made, missingRuleUsed), parts -> parts.parts().stream()
                .map(part -> of(instrument, instrument.part(part), missingRuleUsed))
                .reduce(parts.rule().provenance().standing(), Standing::weaker));
    }

    /**
     * As {@link #of(Instrument, Scale, boolean)}; of both hands averaged also the standing of that averaging.
     *
     * @param hand the hand asked about, or both averaged
     */
    public static Standing of(Instrument instrument, Scale scale, Optional<Side> hand, boolean missingRuleUsed) {
        Standing weakest = of(instrument, scale, missingRuleUsed);
        return hand.equals(Optional.of(Side.BOTH))
                ? instrument
                        .facts()
                        .bothHands()
                        .map(p -> weakest.weaker(p.standing()))
                        .orElse(weakest)
                : weakest;
    }

    private static Standing ofItems(Composition.FromItems made, boolean missingRuleUsed) {
        Standing weakest = made.rule().provenance().standing();
        for (Composition.ScaleItem item : made.items()) {
            weakest = weakest.weaker(item.item().responses().provenance().standing());
        }
        if (made.skip().isPresent()) {
            weakest = weakest.weaker(made.skip().get().provenance().standing());
        }
        return missingRuleUsed ? weakest.weaker(made.missing().provenance().standing()) : weakest;
    }
}
