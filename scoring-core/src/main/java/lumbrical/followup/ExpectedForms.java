package lumbrical.followup;

import java.time.LocalDate;
import java.util.AbstractList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.RandomAccess;
import lumbrical.instrument.InstrumentId;
import lumbrical.instrument.Item;

/** The expected forms of one episode, each made when it is asked for: a clinic expects more forms than it gets. Immutable. */
final class ExpectedForms extends AbstractList<ExpectedForm> implements RandomAccess {
    private final Episode episode;
    private final LocalDate asOf;
    private final Visit[] visits;
    private final InstrumentId[] instruments;
    private final ExpectedForm.State[] states;
    /** By position, of those that have blank items. */
    private final Map<Integer, List<Item>> blankItems;

    /** @param forms those of the episode, as of that day */
    ExpectedForms(Episode episode, LocalDate asOf, List<ExpectedForm> forms) {
        this.episode = episode;
        this.asOf = asOf;
        visits = new Visit[forms.size()];
        instruments = new InstrumentId[forms.size()];
        states = new ExpectedForm.State[forms.size()];
        Map<Integer, List<Item>> blank = new HashMap<>();
        for (int i = 0; i < visits.length; i++) {
            ExpectedForm form = forms.get(i);
            visits[i] = form.visit();
            instruments[i] = form.instrument();
            states[i] = form.state();
            if (!form.blankItems().isEmpty()) {
                blank.put(i, form.blankItems());
            }
        }
        blankItems = Map.copyOf(blank);
    }

    /** A list that does not change: one of these as it is, any other copied. */
    static List<ExpectedForm> copyOf(List<ExpectedForm> forms) {
        return forms instanceof ExpectedForms ? forms : List.copyOf(forms);
    }

    @Override
    public ExpectedForm get(int index) {
        return new ExpectedForm(
                episode,
                visits[index],
                instruments[index],
                states[index],
                asOf,
                blankItems.getOrDefault(index, List.of()));
    }

    @Override
    public int size() {
        return visits.length;
    }
}
