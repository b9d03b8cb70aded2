package lumbrical.registry;

import java.util.ArrayList;
import java.util.List;
import java.util.OptionalDouble;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import lumbrical.deidentify.DeidentifiedChange;
import lumbrical.deidentify.DeidentifiedDataset;
import lumbrical.deidentify.DeidentifiedEpisode;
import lumbrical.deidentify.DeidentifiedForm;
import lumbrical.deidentify.DeidentifiedScore;
import lumbrical.deidentify.SendingLog;
import lumbrical.instrument.Column;
import lumbrical.instrument.Threshold;

/** What is sent in tables, record by record, for the list of what was sent. */
final class SentContent {
    private SentContent() {}

    /** The tables of the CSV form. */
    static void ofCsv(DeidentifiedDataset shipment, SendingLog log) {
        shipment.contents().forEach(episode -> {
            log.add("episodes", episode.id(), episode.subject(), episode(episode));
            for (DeidentifiedForm form : episode.forms()) {
                log.add("responses", form.key(), episode.subject(), form(episode, form) + responses(form));
                for (DeidentifiedScore score : form.scores()) {
                    String key = form.key() + "/" + score.key();
                    log.add("scores", key, episode.subject(), form(episode, form) + score(form, score));
                    score.change()
                            .ifPresent(change ->
                                    log.add("change", key, episode.subject(), form(episode, form) + change(change)));
                }
            }
        });
    }

    /** The subjects, episodes and forms that the datasets of CDISC are about. */
    static void ofCdisc(DeidentifiedDataset shipment, SendingLog log) {
        List<String> ofSubject = new ArrayList<>(); // episodes of one subject follow each other
        String[] subject = {""};
        shipment.contents().forEach(episode -> {
            if (!episode.subject().equals(subject[0])) {
                endSubject(subject[0], ofSubject, log);
                subject[0] = episode.subject();
            }
            ofSubject.add(episode(episode));
            log.add("episodes", episode.id(), episode.subject(), episode(episode));
            for (DeidentifiedForm form : episode.forms()) {
                String scores = form.scores().stream()
                        .map(score -> score(form, score)
                                + score.change().map(SentContent::change).orElse(""))
                        .collect(Collectors.joining("\n"));
                log.add("forms", form.key(), episode.subject(), form(episode, form) + responses(form) + "\n" + scores);
            }
        });
        endSubject(subject[0], ofSubject, log);
    }

    private static void endSubject(String subject, List<String> episodes, SendingLog log) {
        if (!episodes.isEmpty()) {
            log.add("subjects", subject, subject, episodes.toString());
            episodes.clear();
        }
    }

    private static String episode(DeidentifiedEpisode episode) {
        return text(episode.sender(), episode.treatedSide(), episode.index(), episode.attributes());
    }

    private static String form(DeidentifiedEpisode episode, DeidentifiedForm form) {
        return text(
                episode.sender(),
                episode.id(),
                form.instrument().definition(),
                form.day(),
                form.side(),
                form.visit(),
                form.attributes());
    }

    private static String responses(DeidentifiedForm form) {
        StringBuilder text = new StringBuilder();
        for (Column column : form.instrument().columns()) {
            OptionalDouble value = form.responses().allowed(column);
            text.append(value.isPresent() ? String.valueOf(value.getAsDouble()) : "")
                    .append(form.responses().entered(column.index()) ? ";" : ",");
        }
        return text.toString();
    }

    private static String score(DeidentifiedForm form, DeidentifiedScore score) {
        return text(
                score.key(),
                score.side(form),
                score.use(),
                score.result().outcome(),
                score.result().reason(),
                score.result().scored().map(s -> s.value() + " " + s.precision()),
                score.result().bounds(),
                score.result().items(),
                score.result().answered());
    }

    private static String change(DeidentifiedChange change) {
        return text(
                change.used(),
                change.baselineKey(),
                change.baselineOn(),
                change.change().baseline(),
                change.change().change(),
                change.change().improvementBounds(),
                change.change().thresholds().mcid().map(Threshold::id),
                change.change().thresholds().mdc().map(Threshold::id),
                change.change().verdict(),
                change.change().reason(),
                change.change().gapsCouldChangeVerdict());
    }

    private static String text(Object... parts) {
        return Stream.of(parts).map(String::valueOf).collect(Collectors.joining("|", "", "\n"));
    }
}
