package lumbrical.deidentify;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import lumbrical.followup.Episode;
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

    private final Pseudonyms pseudonyms;
    /** Keys of forms that are alike in all that makes a key. Each other one is made when it is asked for, so that none is held. */
    private final Map<Identity, String> numbered = new HashMap<>();

    private FormKeys(Pseudonyms pseudonyms) {
        this.pseudonyms = pseudonyms;
    }

    static FormKeys of(FollowUpSource clinic, Pseudonyms pseudonyms) {
        Map<List<String>, Set<Identity>> alike = new HashMap<>();
        clinic.eachForm(placed -> {
            if (!placed.form().responses().blank()) {
                placed.fold(
                                a -> Optional.of(
                                        Identity.of(a.form(), a.at().episode().treatedSide())),
                                u -> Optional.<Identity>empty())
                        .ifPresent(i -> alike.merge(i.given(), Set.of(i), FormKeys::both));
            }
        });
        FormKeys made = new FormKeys(pseudonyms);
        alike.forEach((given, of) -> {
            if (of.size() > 1) {
                made.number(pseudonyms.form(given), new ArrayList<>(of));
            }
        });
        return made;
    }

    private static Set<Identity> both(Set<Identity> before, Set<Identity> now) {
        Set<Identity> all = new LinkedHashSet<>(before);
        all.addAll(now);
        return all;
    }

    private void number(String key, List<Identity> alike) {
        alike.sort(Comparator.comparing(i -> i.sitting().episode().orElse("")));
        for (int i = 0; i < alike.size(); i++) {
            numbered.put(alike.get(i), i == 0 ? key : key + "-" + (i + 1));
        }
    }

    /** The keys of the forms of one episode, each made once. */
    final class OfEpisode {
        private final Side treated;
        private final Map<Identity, String> made = new HashMap<>();

        private OfEpisode(Side treated) {
            this.treated = treated;
        }

        String of(ScoredForm form) {
            return made.computeIfAbsent(Identity.of(form, treated), i -> Optional.ofNullable(numbered.get(i))
                    .orElseGet(() -> pseudonyms.form(i.given())));
        }
    }

    OfEpisode ofEpisode(Episode episode) {
        return new OfEpisode(episode.treatedSide());
    }
}
