package lumbrical.report.page;

import gg.jte.html.OwaspHtmlTemplateOutput;
import gg.jte.output.WriterOutput;
import java.io.UncheckedIOException;
import java.io.Writer;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.EnumSet;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.NavigableMap;
import java.util.Optional;
import java.util.Set;
import java.util.TreeMap;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import lumbrical.change.Change;
import lumbrical.change.Verdict;
import lumbrical.followup.CallList;
import lumbrical.followup.CallRow;
import lumbrical.followup.Episode;
import lumbrical.followup.EpisodeFollowUp;
import lumbrical.followup.ExpectedForm;
import lumbrical.followup.FollowUpResult;
import lumbrical.followup.PlacedForm;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.Source;
import lumbrical.instrument.Threshold;
import lumbrical.number.Numbers;
import lumbrical.report.html.Origin;
import lumbrical.report.html.PageParts;
import lumbrical.scoring.ScoringOptions;
import lumbrical.sitting.ScoredForm;
import lumbrical.threshold.ThresholdChoice;

/** Composes a page from what is known of a clinic's patients, and prints it. */
public final class PageComposer {
    /** Code of a filter: neither of the others. */
    private static final String NONE = "none";

    private final FollowUpResult followUp;
    private final Origin origin;
    private final ThresholdCache thresholds;
    private final EpisodeViews views;
    private final Map<Episode.Key, List<CallRow>> calls;
    private final Map<Episode.Key, String> anchors = new HashMap<>();

    /**
     * @param followUp everything known of the patients over time
     * @param choice the thresholds used
     * @param scoring the rules used, for the arithmetic shown
     * @param origin where the page comes from
     */
    public PageComposer(FollowUpResult followUp, ThresholdChoice choice, ScoringOptions scoring, Origin origin) {
        this.followUp = followUp;
        this.origin = origin;
        this.thresholds = new ThresholdCache(choice);
        this.views = new EpisodeViews(followUp, scoring, thresholds);
        this.calls = CallList.of(followUp, CallList.Selection.NOW).stream()
                .collect(Collectors.groupingBy(row -> row.episode().key(), HashMap::new, Collectors.toList()));
        for (EpisodeFollowUp episode : followUp.episodes()) {
            anchors.put(episode.episode().key(), "e" + (anchors.size() + 1));
        }
    }

    /**
     * Writes the page of these patients.
     *
     * @param patients in this order
     * @param clinic whether a list to search stands before them
     * @throws UncheckedIOException if it cannot be written
     */
    public void write(List<String> patients, boolean clinic, Writer out) {
        Map<String, List<EpisodeFollowUp>> byPatient = new LinkedHashMap<>();
        patients.forEach(p -> byPatient.put(p, new ArrayList<>(2)));
        for (EpisodeFollowUp episode : followUp.episodes()) {
            Optional.ofNullable(byPatient.get(episode.episode().patient())).ifPresent(list -> list.add(episode));
        }
        List<EpisodeFollowUp> shown =
                byPatient.values().stream().flatMap(List::stream).toList();
        Optional<PageView.ClinicList> list = clinic ? Optional.of(list(shown)) : Optional.empty();
        shown.forEach(e -> e.series().forEach(s -> thresholds.of(s.instrument(), s.scale(), e.condition())));
        PageParts parts = PageParts.of(List.of("page.css"), "page.js");
        PageView page = new PageView(
                title(patients, clinic),
                parts,
                followUp.asOf().toString(),
                list,
                () -> byPatient.entrySet().stream()
                        .map(e -> patient(e.getKey(), e.getValue()))
                        .iterator(),
                thresholds.used().stream().map(PageComposer::line).toList(),
                instruments(shown),
                origin);
        JtepageGenerated.render(new OwaspHtmlTemplateOutput(new WriterOutput(out)), null, page);
    }

    private static String title(List<String> patients, boolean clinic) {
        if (clinic) {
            return "Clinic";
        }
        return (patients.size() == 1 ? "Patient " : "Patients ") + String.join(", ", patients);
    }

    private PatientView patient(String id, List<EpisodeFollowUp> episodes) {
        List<EpisodeView> shown = episodes.stream()
                .map(e -> views.of(
                        e,
                        calls.getOrDefault(e.episode().key(), List.of()),
                        anchors.get(e.episode().key())))
                .toList();
        return SheetLayout.of(id, shown, "as of " + followUp.asOf() + ", " + origin.program());
    }

    // ---- the list

    private PageView.ClinicList list(List<EpisodeFollowUp> episodes) {
        NavigableMap<String, String> conditions = new TreeMap<>();
        episodes.forEach(e -> conditions.put(EpisodeViews.condition(e), ""));
        conditions.replaceAll(
                (label, code) -> "c" + (conditions.headMap(label, false).size() + 1));
        Set<Verdict> verdicts = EnumSet.noneOf(Verdict.class);
        Set<ExpectedForm.State> states = EnumSet.noneOf(ExpectedForm.State.class);
        List<PageView.Row> rows = new ArrayList<>(episodes.size());
        boolean withoutChange = false;
        for (EpisodeFollowUp episode : episodes) {
            List<ScaleCourse> main = ScaleCourse.of(episode, thresholds).stream()
                    .filter(ScaleCourse::main)
                    .toList();
            Set<Verdict> latest = main.stream()
                    .flatMap(c -> c.lastChange().map(Change::verdict).stream())
                    .collect(Collectors.toCollection(() -> EnumSet.noneOf(Verdict.class)));
            verdicts.addAll(latest);
            withoutChange |= latest.isEmpty();
            List<CallRow> due = calls.getOrDefault(episode.episode().key(), List.of());
            due.forEach(call -> states.add(call.state()));
            rows.add(row(episode, main, latest, due, conditions));
        }
        List<PageView.Choice> verdictChoices = new ArrayList<>();
        verdicts.forEach(v -> verdictChoices.add(new PageView.Choice(v.code(), v.words())));
        if (withoutChange) {
            verdictChoices.add(new PageView.Choice(NONE, "no change to judge yet"));
        }
        List<PageView.Choice> stateChoices = new ArrayList<>();
        states.forEach(s -> stateChoices.add(new PageView.Choice(s.code(), EpisodeViews.state(s))));
        stateChoices.add(new PageView.Choice(NONE, "nothing due"));
        return new PageView.ClinicList(
                rows,
                conditions.entrySet().stream()
                        .map(c -> new PageView.Choice(c.getValue(), c.getKey()))
                        .toList(),
                verdictChoices,
                stateChoices);
    }

    private PageView.Row row(
            EpisodeFollowUp of,
            List<ScaleCourse> main,
            Set<Verdict> verdicts,
            List<CallRow> due,
            Map<String, String> conditions) {
        Episode episode = of.episode();
        String condition = EpisodeViews.condition(of);
        return new PageView.Row(
                anchors.get(episode.key()),
                episode.patient(),
                episode.id(),
                episode.treatedSide().code(),
                condition,
                episode.indexDate().map(Object::toString).orElse(""),
                main.stream().map(PageComposer::latest).toList(),
                due.stream()
                        .map(call -> EpisodeViews.state(call.state()) + " ("
                                + call.visit().name() + ")")
                        .distinct()
                        .collect(Collectors.joining(", ")),
                conditions.getOrDefault(condition, ""),
                codes(verdicts.stream().map(Verdict::code)),
                codes(due.stream().map(call -> call.state().code())));
    }

    private static String codes(Stream<String> codes) {
        String joined = codes.distinct().collect(Collectors.joining(" "));
        return joined.isEmpty() ? NONE : joined;
    }

    private static String latest(ScaleCourse course) {
        return course.instrument().id() + " " + course.scale().id() + " "
                + course.latest()
                        .result()
                        .scored()
                        .map(s -> course.figures().plain(s.value()))
                        .orElse("not scored")
                + course.lastChange().map(c -> ", " + c.verdict().words()).orElse("");
    }

    // ---- what stands at the end

    private static PageView.ThresholdLine line(ThresholdCache.Used used) {
        Threshold t = used.threshold();
        return new PageView.ThresholdLine(
                used.instrument().definition() + " " + used.scale().id(),
                t.kind().code().toUpperCase(Locale.ROOT)
                        + (t.level().isPresent() ? " " + t.level().getAsInt() + " %" : ""),
                t.value().isPresent() ? Numbers.format(t.value().getAsDouble()) : "",
                String.join(", ", used.conditions()),
                t.population()
                        + (t.n().isPresent() ? ", n " + t.n().getAsInt() : "")
                        + t.treatment().map(w -> "; treatment: " + w).orElse("")
                        + t.baseline().map(b -> "; baseline: " + b.words()).orElse("")
                        + (t.otherPopulation() ? "; other population" : ""),
                t.method() + t.followUp().map(f -> ", " + f).orElse(""),
                t.id() + ", " + t.provenance().standing().code() + ": "
                        + used.instrument()
                                .source(t.provenance().source())
                                .map(Source::inOneLine)
                                .orElse(t.provenance().source()));
    }

    private static List<PageView.InstrumentLine> instruments(List<EpisodeFollowUp> episodes) {
        Set<Instrument> used = new LinkedHashSet<>();
        episodes.forEach(e -> e.forms().stream()
                .map(PlacedForm::form)
                .map(ScoredForm::instrument)
                .forEach(used::add));
        return used.stream()
                .sorted(Comparator.comparing(Instrument::definition))
                .map(i -> new PageView.InstrumentLine(
                        i.facts().title(),
                        i.definition(),
                        i.facts().licence().terms() + "; " + i.facts().licence().holder(),
                        i.facts().notes()))
                .toList();
    }
}
