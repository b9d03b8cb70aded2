package lumbrical.deidentify;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import lumbrical.followup.AssignedForm;
import lumbrical.followup.FollowUpSource;
import lumbrical.instrument.InstrumentId;
import lumbrical.instrument.Side;
import lumbrical.sitting.ScoredForm;
import lumbrical.sitting.Sitting;

/**
 * The keys of all forms: a keyed hash of patient, date, time if there is one, side and instrument as given, and of the treated side
 * where the side is both, since such a sitting can serve two episodes. Row, day, visit and assigned episode have no part in it, so a
 * key does not change when other rows, a refusal or an index date do. Forms alike in all of this are numbered by the episode written
 * on them, then in the order of the input: our convention.
 */
final class FormKeys {
    /** What identifies a form of a patient. */
    private record Identity(Sitting.Key sitting, InstrumentId instrument, Optional<Side> treatedSide) {
        static Identity of(ScoredForm form, Side treated) {
            Sitting sitting = form.sitting();
            boolean canServeTwo = sitting.side().equals(Optional.of(Side.BOTH));
            return new Identity(
                    sitting.key(), form.instrument().id(), canServeTwo ? Optional.of(treated) : Optional.empty());
        }

        List<String> given() {
            List<String> texts = new ArrayList<>(List.of(
                    sitting.patient(),
                    sitting.completedOn() + sitting.time().map(t -> "T" + t).orElse(""),
                    sitting.side().map(Side::code).orElse(""),
                    instrument.value()));
            treatedSide.ifPresent(side -> texts.add(side.code()));
            return texts;
        }
    }

    private final Map<Identity, String> keys = new HashMap<>();

    private FormKeys() {}

    static FormKeys of(FollowUpSource clinic, Pseudonyms pseudonyms) {
        Map<Identity, List<String>> identities = new LinkedHashMap<>();
        clinic.eachForm(placed -> {
            if (!placed.form().responses().blank()) {
                placed.fold(
                                a -> Optional.of(
                                        Identity.of(a.form(), a.at().episode().treatedSide())),
                                u -> Optional.<Identity>empty())
                        .ifPresent(i -> identities.computeIfAbsent(i, Identity::given));
            }
        });
        Map<List<String>, List<Identity>> alike = new LinkedHashMap<>();
        identities.forEach((identity, given) ->
                alike.computeIfAbsent(given, g -> new ArrayList<>()).add(identity));
        FormKeys made = new FormKeys();
        alike.forEach((given, of) -> made.number(pseudonyms.form(given), of));
        return made;
    }

    private void number(String key, List<Identity> alike) {
        alike.sort(Comparator.comparing(i -> i.sitting().episode().orElse("")));
        for (int i = 0; i < alike.size(); i++) {
            keys.put(alike.get(i), i == 0 ? key : key + "-" + (i + 1));
        }
    }

    /** @throws IllegalArgumentException if the form is none of the clinic's */
    String of(AssignedForm form) {
        return of(form.form(), form.at().episode().treatedSide());
    }

    String of(ScoredForm form, Side treated) {
        return Optional.ofNullable(keys.get(Identity.of(form, treated)))
                .orElseThrow(() -> new IllegalArgumentException("This form is none of the clinic's"));
    }
}
