package lumbrical.report.cohort;

import gg.jte.html.OwaspHtmlTemplateOutput;
import gg.jte.output.WriterOutput;
import java.io.Writer;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;
import lumbrical.cohort.CohortGroup;
import lumbrical.cohort.CohortResult;
import lumbrical.cohort.CommonMdcs;
import lumbrical.cohort.CompareRow;
import lumbrical.cohort.FlowRow;
import lumbrical.instrument.InstrumentId;
import lumbrical.instrument.Scale;
import lumbrical.number.Figures;
import lumbrical.report.html.Origin;
import lumbrical.report.html.PageParts;
import lumbrical.report.html.ScaleNames;

/** Composes a report of groups from their results, and prints it. */
public final class CohortComposer {
    private final CohortResult result;
    private final LocalDate asOf;
    private final int smallestGroup;
    private final Origin origin;
    private final CommonMdcs mdcs;
    private final Map<CohortGroup, List<GroupResults>> byGroup;
    private final Map<String, String> scaleCodes = new LinkedHashMap<>();
    private final Map<String, String> scaleWords = new LinkedHashMap<>();

    /**
     * @param result the results
     * @param mdcs the errors of measurement by which the changes were judged
     * @param asOf the day on which things are looked at
     * @param smallestGroup no percentage of fewer
     * @param origin where the report comes from
     */
    public CohortComposer(CohortResult result, CommonMdcs mdcs, LocalDate asOf, int smallestGroup, Origin origin) {
        this.result = result;
        this.asOf = asOf;
        this.smallestGroup = smallestGroup;
        this.origin = origin;
        this.mdcs = mdcs;
        this.byGroup = GroupResults.of(result);
        byGroup.values().stream().flatMap(List::stream).forEach(r -> {
            String key = scaleKey(r);
            scaleCodes.computeIfAbsent(key, k -> "s" + (scaleCodes.size() + 1));
            scaleWords.putIfAbsent(key, ScaleNames.full(r.instrument(), r.scale()));
        });
    }

    private static String scaleKey(GroupResults results) {
        return results.instrument().id() + " " + results.scale().id();
    }

    /** What a group is called. */
    static String words(CohortGroup group) {
        return group.equals(CohortGroup.ALL) ? "all together" : group.by() + ": " + group.label();
    }

    /**
     * Writes the report. The groups come in the order of the tables, all together last.
     *
     * @throws java.io.UncheckedIOException if it cannot be written
     */
    public void write(Writer out) {
        List<CohortResult.GroupSize> groups = new ArrayList<>(result.groups());
        groups.sort(Comparator.comparing(g -> g.group().equals(CohortGroup.ALL)));
        Map<CohortGroup, String> codes = new LinkedHashMap<>();
        groups.forEach(g -> codes.put(g.group(), "g" + (codes.size() + 1)));
        List<ReportView.Line> contents = new ArrayList<>();
        groups.forEach(g -> sections(g).forEach(r -> contents.add(line(r, code(codes, r)))));
        ReportView view = new ReportView(
                PageParts.of(List.of("page.css", "cohort.css"), "cohort.js"),
                asOf.toString(),
                contents,
                groups.stream()
                        .map(g -> new ReportView.Choice(
                                Optional.ofNullable(codes.get(g.group())).orElse(""), words(g.group())))
                        .toList(),
                scaleCodes.entrySet().stream()
                        .map(e -> new ReportView.Choice(
                                e.getValue(),
                                Optional.ofNullable(scaleWords.get(e.getKey())).orElse("")))
                        .toList(),
                () -> groups.stream().map(g -> group(g, codes)).iterator(),
                compared(),
                result.methods(),
                origin);
        JtereportGenerated.render(new OwaspHtmlTemplateOutput(new WriterOutput(out)), null, view);
    }

    private static String code(Map<CohortGroup, String> codes, GroupResults results) {
        return Optional.ofNullable(codes.get(results.group()))
                .orElseThrow(() -> new IllegalStateException("A group without a size"));
    }

    private List<GroupResults> sections(CohortResult.GroupSize size) {
        return byGroup.getOrDefault(size.group(), List.of());
    }

    private String scaleCode(GroupResults results) {
        return Optional.ofNullable(scaleCodes.get(scaleKey(results))).orElse("");
    }

    private ReportView.Line line(GroupResults results, String groupCode) {
        return new ReportView.Line(
                groupCode + scaleCode(results),
                groupCode,
                scaleCode(results),
                words(results.group()),
                ScaleNames.full(results.instrument(), results.scale()),
                results.told(smallestGroup)
                        .map(row -> CohortTables.told(
                                row,
                                results.used(row),
                                Figures.ofScaleWidth(results.scale().range().width())))
                        .orElse(List.of()));
    }

    private ReportView.Group group(CohortResult.GroupSize size, Map<CohortGroup, String> codes) {
        return new ReportView.Group(
                Optional.ofNullable(codes.get(size.group())).orElse(""),
                words(size.group()),
                SectionViews.episodes(size.episodes()) + " of " + size.patients()
                        + (size.patients() == 1 ? " patient" : " patients"),
                () -> sections(size).stream()
                        .map(r -> section(r, code(codes, r)))
                        .iterator(),
                otherForms(size.group()));
    }

    /** Forms that are read item by item, without a scale. */
    private List<ReportView.Form> otherForms(CohortGroup group) {
        Set<InstrumentId> shown = byGroup.getOrDefault(group, List.of()).stream()
                .map(r -> r.instrument().id())
                .collect(Collectors.toSet());
        Map<InstrumentId, List<FlowRow>> others = new LinkedHashMap<>();
        result.standing().flow().stream()
                .filter(r -> r.group().equals(group) && !shown.contains(r.instrument()))
                .forEach(r -> others.computeIfAbsent(r.instrument(), k -> new ArrayList<>())
                        .add(r));
        return others.entrySet().stream()
                .map(e -> new ReportView.Form(
                        group.by(), group.label(), e.getKey().value(), CohortTables.flow(e.getKey(), e.getValue())))
                .toList();
    }

    private ReportView.Section section(GroupResults results, String groupCode) {
        return new SectionViews(
                        results,
                        smallestGroup,
                        mdcs.of(
                                results.group(),
                                results.instrument().id(),
                                results.scale().id()))
                .of(
                        groupCode + scaleCode(results),
                        new ReportView.Place(
                                results.group().by(),
                                results.group().label(),
                                results.instrument().id().value(),
                                results.scale().id().value(),
                                groupCode,
                                scaleCode(results)));
    }

    private Optional<TableView> compared() {
        List<CompareRow> rows = result.compare().stream()
                .filter(r -> r.nA() + r.nB() > 0)
                .filter(r -> Scale.mainOf(r.at().instrument().scales()).contains(r.at().scale()))
                .toList();
        return rows.isEmpty() ? Optional.empty() : Optional.of(CohortTables.compared(rows));
    }
}
