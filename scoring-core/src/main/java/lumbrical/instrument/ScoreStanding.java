package lumbrical.instrument;

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
        if (scale.composition() instanceof Composition.FromItems made) {
            Standing weakest = made.rule().provenance().standing();
            for (Composition.ScaleItem item : made.items()) {
                weakest = weakest.weaker(item.item().responses().provenance().standing());
            }
            if (made.skip().isPresent()) {
                weakest = weakest.weaker(made.skip().get().provenance().standing());
            }
            return missingRuleUsed ? weakest.weaker(made.missing().provenance().standing()) : weakest;
        }
        Composition.FromParts parts = (Composition.FromParts) scale.composition();
        Standing weakest = parts.rule().provenance().standing();
        for (Composition.Part part : parts.parts()) {
            Scale of = instrument
                    .scale(part.scale())
                    .orElseThrow(
                            () -> new IllegalArgumentException(part.scale() + " is no scale of " + instrument.id()));
            weakest = weakest.weaker(of(instrument, of, missingRuleUsed));
        }
        return weakest;
    }
}
