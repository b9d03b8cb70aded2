package lumbrical.cdisc;

import java.util.ArrayList;
import java.util.List;
import java.util.function.Consumer;
import lumbrical.deidentify.DeidentifiedDataset;

/** One way through the episodes, on which the records of several datasets are made: an episode takes longer to make than its records. */
final class EpisodePass {
    private final List<Dataset.EpisodeTaker> takers = new ArrayList<>();

    /** Hands the records of a dataset to {@code taker} on the way. */
    void add(Dataset dataset, Consumer<Dataset.Row> taker) {
        takers.add(dataset.records().begin(taker));
    }

    void through(DeidentifiedDataset.Contents episodes) {
        episodes.forEach(episode -> takers.forEach(taker -> taker.accept(episode)));
        takers.forEach(Dataset.EpisodeTaker::end);
    }
}
