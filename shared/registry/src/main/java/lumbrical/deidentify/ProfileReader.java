package lumbrical.deidentify;

import java.io.IOException;
import java.nio.file.Files;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Set;
import lumbrical.document.Faults;
import lumbrical.document.Json;
import lumbrical.document.Node;
import lumbrical.tabular.Input;
import lumbrical.tabular.UnreadableInputException;

/** Reads a profile; {@code shared/schema/profile.schema.json} describes it. */
public final class ProfileReader {
    private static final int MOST_COLUMNS = 200;
    private static final int MOST_VALUES = 1_000;
    private static final long LARGEST = 1 << 20;

    private ProfileReader() {}

    /**
     * The profile in {@code input}.
     *
     * @throws UnreadableInputException with every fault in it; a column that can name a person is one
     */
    public static Profile read(Input input) {
        Faults faults = new Faults();
        Json json;
        try {
            if (!Files.isRegularFile(input.path()) || Files.size(input.path()) > LARGEST) {
                throw new UnreadableInputException(
                        input.place(), "there is no such profile, or it is no file of at most 1 MB.");
            }
            json = Json.parse(Files.readAllBytes(input.path()));
        } catch (IOException e) {
            throw new UnreadableInputException(
                    input.place(),
                    "this is no JSON: "
                            + String.valueOf(e.getMessage()).lines().findFirst().orElse("") + ". Correct the profile.");
        }
        Profile profile = profile(Node.of(json, "$", faults));
        if (!faults.none()) {
            throw new UnreadableInputException(
                    input.place(),
                    "the profile has " + faults.lines().size() + (faults.lines().size() == 1 ? " fault" : " faults")
                            + "."
                            + "\n  "
                            + String.join("\n  ", faults.lines()));
        }
        return profile;
    }

    private static Profile profile(Node node) {
        String study = node.text("study");
        if (!Sender.isAllowed(study)) {
            node.fault("study", "must be " + Sender.ALLOWED + ".");
        }
        Profile.Dates dates = node.word(
                "dates", Node.words(Profile.Dates.values(), Profile.Dates::code), Profile.Dates.DAYS_FROM_INDEX);
        int smallCell = node.optionalWhole("smallCell").orElse(Profile.DEFAULT.smallCell());
        if (smallCell < 0) {
            node.fault("smallCell", "must be 0 or more.");
        }
        Profile profile = new Profile(node.text("id"), node.text("version"), study, dates, smallCell, columns(node));
        node.refuseOtherKeys();
        return profile;
    }

    private static List<Profile.AllowedColumn> columns(Node node) {
        List<Profile.AllowedColumn> columns = new ArrayList<>();
        Set<String> names = new HashSet<>();
        for (Node.Element element : node.requiredElements("columns")) {
            Node column = element.node();
            String name = column.text("name");
            List<String> values = column.texts("values");
            ColumnPolicy.whyRefused(name).ifPresent(why -> column.fault("name", "'" + name + "': " + why));
            if (!names.add(name)) {
                column.fault("name", "'" + name + "' stands twice.");
            }
            if (values.isEmpty() && !ColumnPolicy.CLOSED.contains(name)) {
                column.fault("values", "'" + name + "' is free text: list the values that may leave.");
            }
            if (values.size() > MOST_VALUES) {
                column.fault("values", "more than " + MOST_VALUES + " values.");
            }
            column.refuseOtherKeys();
            columns.add(new Profile.AllowedColumn(name, values));
        }
        if (columns.size() > MOST_COLUMNS) {
            node.fault("columns", "more than " + MOST_COLUMNS + " columns.");
        }
        return columns;
    }
}
