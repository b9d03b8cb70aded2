package lumbrical.report.cohort;

import java.util.List;
import java.util.Optional;
import lumbrical.report.drawing.Drawing;
import lumbrical.report.html.Origin;
import lumbrical.report.html.PageParts;

/**
 * A whole report.
 *
 * @param parts policy, style sheet and script
 * @param asOf the day on which things are looked at
 * @param contents a line for each section
 * @param groupChoices the groups there are
 * @param scaleChoices the scales there are
 * @param groups the groups, made as they are printed
 * @param compared two groups compared; a table for each grouping
 * @param methods what was done, in paragraphs
 * @param origin where the report comes from
 */
record ReportView(
        PageParts parts,
        String asOf,
        List<Line> contents,
        List<Choice> groupChoices,
        List<Choice> scaleChoices,
        Iterable<Group> groups,
        Optional<TableView> compared,
        List<String> methods,
        Origin origin) {
    ReportView {
        contents = List.copyOf(contents);
        groupChoices = List.copyOf(groupChoices);
        scaleChoices = List.copyOf(scaleChoices);
        methods = List.copyOf(methods);
    }

    /** A choice of a filter. */
    record Choice(String code, String words) {}

    /**
     * A line of the contents: a section and its result at one visit.
     *
     * @param anchor where it stands
     * @param group code of its group
     * @param scale code of its scale
     * @param cells visit, with both scores, mean improvement, interval, improved, of, per cent, interval
     */
    record Line(
            String anchor,
            String group,
            String scale,
            String groupWords,
            String scaleWords,
            List<TableView.Cell> cells) {
        Line {
            cells = List.copyOf(cells);
        }
    }

    /**
     * A group.
     *
     * @param code code of the group
     * @param heading which it is
     * @param size how large it is
     * @param sections its scales, made as they are printed
     * @param otherForms what became of forms that have no scale
     */
    record Group(String code, String heading, String size, Iterable<Section> sections, List<Form> otherForms) {
        Group {
            otherForms = List.copyOf(otherForms);
        }
    }

    /** A form without a scale: group and form as they stand in the tables, and its flow. */
    record Form(String by, String group, String instrument, TableView flow) {}

    /**
     * A group on a scale.
     *
     * @param anchor its id
     * @param place group and scale as they stand in the tables
     * @param heading the questionnaire and the scale
     * @param main whether it is a main scale, which is printed
     * @param facts the scale, and the MCID used
     * @param sentences what was found, to be said
     * @param courses its drawings over time
     * @param standing the numbers behind them
     * @param visits the follow-up visits at which somebody has both scores
     * @param flow what became of the forms
     * @param attrition how those seen again and the others had started
     */
    record Section(
            String anchor,
            Place place,
            String heading,
            boolean main,
            List<String> facts,
            List<String> sentences,
            List<Figure> courses,
            List<TableView> standing,
            List<Visit> visits,
            Optional<TableView> flow,
            Optional<TableView> attrition) {
        Section {
            facts = List.copyOf(facts);
            sentences = List.copyOf(sentences);
            courses = List.copyOf(courses);
            standing = List.copyOf(standing);
            visits = List.copyOf(visits);
        }
    }

    /** Group and scale, as they stand in the tables; codes of both, for the filters. */
    record Place(String by, String group, String instrument, String scale, String groupCode, String scaleCode) {}

    /**
     * A follow-up visit.
     *
     * @param heading the visit, and how many have both scores
     * @param notes what is to be said of it
     * @param figures its drawings
     * @param tables the numbers behind them
     */
    record Visit(String heading, List<String> notes, List<Figure> figures, List<TableView> tables) {
        Visit {
            notes = List.copyOf(notes);
            figures = List.copyOf(figures);
            tables = List.copyOf(tables);
        }
    }

    /** A drawing and what it shows. */
    record Figure(String caption, Drawing drawing) {}
}
