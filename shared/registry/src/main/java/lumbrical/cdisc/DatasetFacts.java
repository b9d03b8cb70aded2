package lumbrical.cdisc;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.SortedMap;
import java.util.TreeMap;
import lumbrical.deidentify.DeidentifiedDataset;
import lumbrical.number.Numbers;

/** What the records of a dataset hold: how many there are, and of each variable the length, the decimals and the values of its code list. */
final class DatasetFacts {
    private final Dataset dataset;
    private final List<Held> held = new ArrayList<>();
    private long records;

    /** What the records hold in one variable. */
    static final class Held {
        private final SortedMap<String, String> values = new TreeMap<>();
        private int longest;
        private int decimals;
        private long filled;

        /** Length of the longest value; 0 = no record has one. */
        int longest() {
            return longest;
        }

        /** How many records have a value. */
        long filled() {
            return filled;
        }

        int decimals() {
            return decimals;
        }

        /** The values of a code list of ours, and the words for them; a value is its own word where nothing else holds it. */
        Map<String, String> values() {
            return values;
        }

        private void look(String text) {
            filled++;
            longest = Math.max(longest, text.length());
        }
    }

    private DatasetFacts(Dataset dataset) {
        this.dataset = dataset;
        dataset.variables().forEach(v -> held.add(new Held()));
    }

    /** Facts of a dataset whose records do not come from the episodes. */
    static DatasetFacts of(Dataset dataset) {
        return of(List.of(dataset), taker -> {}).get(0);
    }

    /** Goes once through the episodes and reads every record of all datasets. */
    static List<DatasetFacts> of(List<Dataset> datasets, DeidentifiedDataset.Contents episodes) {
        List<DatasetFacts> all = datasets.stream().map(DatasetFacts::new).toList();
        EpisodePass pass = new EpisodePass();
        for (DatasetFacts facts : all) {
            Map<String, Integer> positions = facts.dataset.positions();
            pass.add(facts.dataset, record -> facts.look(record, positions));
        }
        pass.through(episodes);
        return all;
    }

    Dataset dataset() {
        return dataset;
    }

    long records() {
        return records;
    }

    Held held(Variable variable) {
        return held.get(dataset.variables().indexOf(variable));
    }

    private void look(Dataset.Row record, Map<String, Integer> positions) {
        records++;
        for (int i = 0; i < held.size(); i++) {
            Dataset.Cell cell = record.cells().get(i);
            Held of = held.get(i);
            if (cell instanceof Dataset.Cell.Text text) {
                of.look(text.text());
                Terms terms = dataset.variables().get(i).terms();
                if (terms.kind() == Terms.Kind.USED && !of.values.containsKey(text.text())) {
                    of.values.put(
                            text.text(),
                            terms.decodedBy()
                                    .map(v -> record.cells().get(positions.get(v)))
                                    .flatMap(Dataset.Cell::asText)
                                    .orElse(text.text()));
                }
            } else if (cell instanceof Dataset.Cell.Number number) {
                String text = Numbers.format(number.value());
                of.look(text);
                int point = text.indexOf('.');
                of.decimals = Math.max(of.decimals, point < 0 ? 0 : text.length() - point - 1);
            }
        }
    }
}
