package lumbrical.conformance;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Locale;
import java.util.Random;
import java.util.Set;
import lumbrical.catalogue.Catalogue;
import lumbrical.instrument.Column;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.ResponseSet;

/**
 * An invented clinic of any size, from a fixed seed: every instrument of the catalogue, gaps, entries that are not allowed, both hands,
 * and ids, dates and texts that nothing else can contain by chance.
 */
final class GeneratedClinic {
    private final Random random = new Random(20261125);
    private final List<Instrument> instruments = Catalogue.builtIn().all();
    private final Set<String> secrets = new LinkedHashSet<>();
    private final StringBuilder episodes = new StringBuilder(
            "patient,episode,treated_side,index_date,dominant_side,sex,birth_year,condition,procedure,forms,share,family_name\r\n");
    private final StringBuilder responses =
            new StringBuilder("patient,completed_on,side,episode,instrument,item,response,remark\r\n");

    static GeneratedClinic of(int episodes) {
        GeneratedClinic clinic = new GeneratedClinic();
        for (int i = 0; i < episodes; i++) {
            clinic.episode(i);
        }
        return clinic;
    }

    /** Ids, full dates and free texts of the input. */
    Set<String> secrets() {
        return secrets;
    }

    Path responses(Path folder) {
        return write(folder.resolve("responses.csv"), responses);
    }

    Path episodes(Path folder) {
        return write(folder.resolve("episodes.csv"), episodes);
    }

    private static Path write(Path file, StringBuilder text) {
        try {
            return Files.writeString(file, text);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    private String secret(String text) {
        secrets.add(text);
        return text;
    }

    private void episode(int i) {
        String patient = secret(String.format(Locale.ROOT, "pat#%06d~x", i / 2));
        String episode = secret(String.format(Locale.ROOT, "epi#%06d~y", i));
        LocalDate index = LocalDate.of(2021, 1, 1).plusDays(random.nextInt(1500));
        episodes.append(String.join(
                        ",",
                        patient,
                        episode,
                        i % 2 == 0 ? "right" : "left",
                        secret(index.toString()),
                        "right",
                        i % 4 < 2 ? "female" : "male",
                        String.valueOf(1925 + random.nextInt(80)),
                        secret("condition~" + i),
                        secret("procedure~" + i),
                        "",
                        i % 17 == 16 ? "no" : "yes",
                        secret("Family~" + i)))
                .append("\r\n");
        for (int day : new int[] {-3, 10, 21, 91, 365}) {
            sitting(patient, episode, index.plusDays(day + random.nextInt(3)), i);
        }
    }

    private void sitting(String patient, String episode, LocalDate day, int i) {
        String side = List.of("right", "left", "both").get(random.nextInt(3));
        for (int k = 0; k < 3; k++) {
            Instrument instrument = instruments.get((i * 3 + k) % instruments.size());
            int gaps = random.nextInt(4);
            for (Column column : instrument.columns()) {
                if (random.nextInt(20) >= gaps) {
                    responses
                            .append(String.join(
                                    ",",
                                    patient,
                                    secret(day.toString()),
                                    i % 2 == 0 && !side.equals("left") || i % 2 == 1 && !side.equals("right")
                                            ? side
                                            : "",
                                    episode,
                                    instrument.id().value(),
                                    column.shortName(),
                                    response(column),
                                    secret("remark~" + i)))
                            .append("\r\n");
                }
            }
        }
    }

    private String response(Column column) {
        if (random.nextInt(400) == 0) {
            return "99999";
        }
        if (column.item().responses() instanceof ResponseSet.Codes codes) {
            List<Double> values = new ArrayList<>(codes.codes());
            return String.valueOf(values.get(random.nextInt(values.size())));
        }
        return String.valueOf(Math.round(random.nextDouble() * 1000) / 10.0);
    }
}
