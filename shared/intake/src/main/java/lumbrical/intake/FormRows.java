package lumbrical.intake;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashMap;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.function.Consumer;
import lumbrical.catalogue.Catalogue;
import lumbrical.columns.FhirNames;
import lumbrical.document.Nearest;
import lumbrical.instrument.Column;
import lumbrical.instrument.Instrument;
import lumbrical.problem.Place;
import lumbrical.problem.Problem;
import lumbrical.problem.ProblemCode;
import lumbrical.problem.Remedy;
import lumbrical.questionnaire.FhirForm;
import lumbrical.tabular.Cells;
import lumbrical.tabular.Input;

/**
 * Forms of one FHIR file as the rows that a table would hold: the items of a known questionnaire, and those whose linkId is the name of
 * a column or is mapped to one, become cells. What a cell means is told where all cells are read.
 */
final class FormRows {
    /** Questionnaires, and names that mean nothing here, of which a file is remembered; further ones are not named. Ours. */
    private static final int REMEMBERED = 1_000;

    private static final Set<String> STATUSES =
            Set.of("completed", "amended", "in-progress", "stopped", "entered-in-error");

    private final Input input;
    private final Catalogue catalogue;
    private final ReadOptions options;
    private final Consumer<Problem> problems;
    private final WideRows wide;
    private final Map<String, Known> questionnaires = new HashMap<>();
    private final Map<String, Layout> layouts = new HashMap<>();
    /** The columns that any form of the file had, by instrument. */
    private final Map<String, boolean[]> had = new TreeMap<>();
    /** The first linkId for each column. */
    private final Map<String, String> linkIds = new HashMap<>();

    private final Set<String> unused = new LinkedHashSet<>();
    private final Set<String> headings = new TreeSet<>();
    private final Set<ProblemCode> said = new HashSet<>();
    private final Set<String> versionsSaid = new HashSet<>();
    private long forms;
    private long others;

    FormRows(Input input, Catalogue catalogue, ReadOptions options, WideRows wide, Consumer<Problem> problems) {
        this.input = input;
        this.catalogue = catalogue;
        this.options = options;
        this.wide = wide;
        this.problems = problems;
    }

    /** A questionnaire: the instrument it is, if known, and what its linkIds mean. */
    private record Known(Optional<Instrument> instrument, Map<String, Optional<String>> columns) {}

    /** A table that holds every column of some instruments. */
    record Layout(ResponseHeader header, Map<String, Integer> positions) {}

    /**
     * A form as a row.
     *
     * @param layout where each cell stands
     * @param cells texts
     * @param identifier what a form of ours without a date is known by
     */
    record Row(Layout layout, Place place, List<String> cells, Optional<String> identifier) {}

    /** What became of a form. */
    sealed interface Outcome {
        /** It belongs to no instrument. */
        record Other() implements Outcome {}

        /** It is left out, and why has been told. */
        record Rejected() implements Outcome {}

        /** It is a row. */
        record Read(Row row) implements Outcome {}
    }

    Outcome row(FhirForm form) {
        Place place = Place.of(input.name(), form.number());
        Known known = questionnaire(form);
        Map<String, String> items = new LinkedHashMap<>();
        Set<String> instruments = new TreeSet<>();
        known.instrument().ifPresent(i -> instruments.add(i.id().value()));
        Map<String, String> ofSitting = new HashMap<>();
        for (FhirForm.Answer answer : form.answers()) {
            String heading = Cells.heading(answer.linkId());
            heard(heading);
            Optional<String> column = column(known, heading, place);
            if (column.isEmpty()) {
                continue;
            }
            String text = answer.text().replace(Cells.NOT_CALCULATED.charAt(0), '?');
            if (ResponseHeader.SITTING_COLUMNS.contains(column.get())) {
                ofSitting.merge(column.get(), text, FormRows::both);
                continue;
            }
            linkIds.putIfAbsent(column.get(), answer.linkId());
            instruments.add(catalogue.ownerOf(column.get()).orElseThrow().id().value());
            items.merge(column.get(), text, FormRows::both);
        }
        if (instruments.isEmpty()) {
            others++;
            remember("questionnaire " + form.questionnaire().orElse("without a canonical"));
            return new Outcome.Other();
        }
        forms++;
        if (form.fault().isPresent()) {
            problems.accept(new Problem(
                    place,
                    "",
                    ProblemCode.FORM_NOT_READABLE,
                    "The form is rejected: " + form.fault().get()
                            + ", as FHIR R4 asks for. Export it again, or tell whoever made the file."));
            return new Outcome.Rejected();
        }
        if (!mayBeUsed(form, place)) {
            return new Outcome.Rejected();
        }
        Layout layout = layouts.computeIfAbsent(String.join(" ", instruments), ids -> layout(instruments));
        return new Outcome.Read(
                new Row(layout, place, cells(form, layout, ofSitting, items), undated(form, ofSitting, place)));
    }

    private static String both(String before, String now) {
        return before.equals(now) ? before : before + ", " + now;
    }

    private List<String> cells(FhirForm form, Layout layout, Map<String, String> ofSitting, Map<String, String> items) {
        String[] cells = new String[layout.positions().size()];
        Arrays.fill(cells, "");
        Map<String, Optional<String>> given = Map.of(
                "patient", form.patient(),
                "completed_on", form.authored(),
                "side", form.side(),
                "episode", isOurs(form) ? form.episode() : Optional.empty(),
                "mode", form.mode(),
                "respondent", form.respondent(),
                "language", form.language());
        given.forEach((column, text) ->
                cells[layout.positions().get(column)] = text.orElse("").replace(Cells.NOT_CALCULATED.charAt(0), '?'));
        ofSitting.forEach((column, text) -> cells[layout.positions().get(column)] = text);
        items.forEach((column, text) -> {
            cells[layout.positions().get(column)] = text;
            Instrument instrument = catalogue.ownerOf(column).orElseThrow();
            had.computeIfAbsent(
                            instrument.id().value(),
                            id -> new boolean[instrument.columns().size()])[
                    instrument.column(column).orElseThrow().index()] = true;
        });
        return List.of(cells);
    }

    /** Of ours by its identifier: an id in somebody else's namespace is no promise that the form has one only. */
    private static boolean isOurs(FhirForm form) {
        return form.identifier()
                .filter(i -> i.system().equals(FhirNames.FORM_ID))
                .isPresent();
    }

    private Optional<String> undated(FhirForm form, Map<String, String> ofSitting, Place place) {
        if (form.authored().isPresent() || ofSitting.containsKey("completed_on") || !isOurs(form)) {
            return Optional.empty();
        }
        if (said.add(ProblemCode.NOTE_DATE_IS_RELATIVE)) {
            problems.accept(
                    new Problem(
                            place.in("authored"),
                            "",
                            ProblemCode.NOTE_DATE_IS_RELATIVE,
                            "Forms of this upload tell no date, only how long after the start of the episode they were filled in; here for"
                                    + " the first time. They are scored one by one, with a blank completed_on, and not placed in time."));
        }
        return form.identifier().map(FhirForm.Identifier::value);
    }

    private boolean mayBeUsed(FhirForm form, Place place) {
        switch (form.status()) {
            case "entered-in-error" -> {
                problems.accept(new Problem(
                        place.in("status"),
                        form.status(),
                        ProblemCode.NOTE_FORM_ENTERED_IN_ERROR,
                        "The form was entered in error, as its status says, and is left out."));
                return false;
            }
            case "in-progress", "stopped" ->
                problems.accept(
                        new Problem(
                                place.in("status"),
                                form.status(),
                                ProblemCode.NOTE_FORM_NOT_FINISHED,
                                "The form was not finished, as its status says. It is scored with the answers that are there."));
            default -> {
                if (!STATUSES.contains(form.status())) {
                    problems.accept(new Problem(
                            place.in("status"),
                            Cells.printable(form.status()),
                            ProblemCode.VALUE_NOT_ALLOWED,
                            "The status of a form is completed, amended, in-progress, stopped or entered-in-error. The form is read"
                                    + " as completed; make sure that it was."));
                }
            }
        }
        return true;
    }

    private Layout layout(Set<String> instruments) {
        List<String> names = new ArrayList<>(ResponseHeader.SITTING_COLUMNS);
        instruments.forEach(
                id -> catalogue.find(id).orElseThrow().columns().forEach(column -> names.add(column.name())));
        Map<String, Integer> positions = new HashMap<>();
        for (int i = 0; i < names.size(); i++) {
            positions.put(names.get(i), i);
        }
        return new Layout(ResponseHeader.ofForms(names, catalogue, linkIds), positions);
    }

    private Known questionnaire(FhirForm form) {
        String canonical = form.questionnaire().orElse("");
        int bar = canonical.indexOf('|');
        String url = bar < 0 ? canonical : canonical.substring(0, bar);
        Optional<Instrument> instrument = instrument(url);
        if (bar >= 0 && instrument.isPresent() && url.startsWith(FhirNames.QUESTIONNAIRE)) {
            sayVersion(form, instrument.get(), canonical.substring(bar + 1));
        }
        if (questionnaires.size() >= REMEMBERED) {
            questionnaires.clear();
        }
        return questionnaires.computeIfAbsent(url, u -> new Known(instrument, new HashMap<>()));
    }

    /** The instrument of one of our canonicals, or of one that the map of headings gives an instrument's id. */
    private Optional<Instrument> instrument(String url) {
        String heading = Cells.heading(url);
        if (heading.isEmpty()) {
            return Optional.empty();
        }
        String mapped = options.columns().nameOf(heading);
        if (!mapped.equals(heading)) {
            heard(heading);
            return catalogue.find(mapped);
        }
        return url.startsWith(FhirNames.QUESTIONNAIRE)
                ? catalogue.find(url.substring(FhirNames.QUESTIONNAIRE.length()))
                : Optional.empty();
    }

    /** Of the version a mark of added codes is not part: {@code 1-a3f0} is version 1. */
    private void sayVersion(FhirForm form, Instrument instrument, String version) {
        String read = instrument.facts().version();
        boolean same = version.equals(read) || version.startsWith(read + "-");
        if (!same && versionsSaid.size() < REMEMBERED && versionsSaid.add(instrument.id() + "|" + version)) {
            problems.accept(new Problem(
                    Place.of(input.name(), form.number()).in("questionnaire"),
                    Cells.printable(version),
                    ProblemCode.NOTE_OTHER_VERSION,
                    "The form is of another version of " + instrument.id() + " and is read with version " + read
                            + "; here for the first time. Scores of two versions may differ."));
        }
    }

    /** The column that a linkId means in a questionnaire; what means nothing is named once a file. */
    private Optional<String> column(Known known, String heading, Place place) {
        if (known.columns().size() >= REMEMBERED) {
            known.columns().clear();
        }
        Optional<String> before = known.columns().get(heading);
        if (before != null) {
            return before;
        }
        Optional<String> column = resolve(known.instrument(), heading);
        known.columns().put(heading, column);
        if (column.isEmpty()
                && remember("item " + heading)
                && !options.columns().leavesOut(heading)) {
            nearest(known.instrument(), heading)
                    .ifPresent(near -> problems.accept(new Problem(
                                    place.in(Cells.printable(heading)),
                                    "",
                                    ProblemCode.UNKNOWN_COLUMN,
                                    "This item is not known and not used. Did you mean " + near
                                            + "? Correct its linkId.")
                            .mendedBy(Remedy.of(Remedy.Kind.MAP_HEADINGS))));
        }
        return column;
    }

    private Optional<String> resolve(Optional<Instrument> instrument, String heading) {
        if (options.columns().leavesOut(heading)) {
            return Optional.empty();
        }
        String name = options.columns().nameOf(heading);
        boolean mapped = !name.equals(heading);
        if (mapped && ResponseHeader.SITTING_COLUMNS.contains(name)) {
            return Optional.of(name);
        }
        Optional<String> ofInstrument =
                instrument.flatMap(i -> i.column(i.id() + "_" + name)).map(Column::name);
        return ofInstrument.or(
                () -> catalogue.ownerOf(name).flatMap(i -> i.column(name)).map(Column::name));
    }

    private Optional<String> nearest(Optional<Instrument> instrument, String heading) {
        return instrument.isPresent()
                ? Nearest.to(
                        heading,
                        instrument.get().columns().stream()
                                .map(Column::shortName)
                                .filter(name -> name.length() > 3) // '1' is near everything
                                .toList())
                : ResponseHeader.nearest(heading, catalogue);
    }

    private boolean remember(String name) {
        return unused.size() < REMEMBERED && unused.add(Cells.printable(name));
    }

    /** Of the headings only those matter that a map names: it is told which of its rows no file has. */
    private void heard(String heading) {
        if (options.columns().places().containsKey(heading)) {
            headings.add(heading);
        }
    }

    void morePages() {
        if (said.add(ProblemCode.NOTE_MORE_PAGES)) {
            problems.accept(new Problem(
                    Place.of(input.name()),
                    "",
                    ProblemCode.NOTE_MORE_PAGES,
                    "The Bundle says that the server holds more pages of it. Only the forms of this file are read; fetch the other"
                            + " pages too and name their files."));
        }
    }

    /** What is to be told of the file as a whole. */
    void endOfFile() {
        Place file = Place.of(input.name());
        wide.endOfFile(file);
        had.forEach((id, columns) -> MissingColumns.notes(
                        ResponseHeader.formOf(catalogue.find(id).orElseThrow(), columns), file)
                .forEach(problems));
        if (forms == 0 && others == 0) {
            problems.accept(new Problem(
                    file,
                    "",
                    ProblemCode.NOTE_NO_ROWS,
                    "The file holds FHIR resources and no QuestionnaireResponse among them. Is it the right file?"));
        } else if (forms == 0) {
            problems.accept(new Problem(
                            file,
                            "",
                            ProblemCode.NO_INSTRUMENT_FOUND,
                            "No form of this file belongs to any instrument, so nothing can be scored: neither the canonical of its"
                                    + " questionnaire nor a linkId is known. Say which column each linkId means.")
                    .mendedBy(Remedy.of(Remedy.Kind.MAP_HEADINGS), Remedy.of(Remedy.Kind.INSTRUMENTS)));
        }
    }

    Set<String> unused() {
        return unused;
    }

    Set<String> headings() {
        return headings;
    }
}
