package lumbrical.registry;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeSet;
import lumbrical.deidentify.DeidentifiedDataset;
import lumbrical.deidentify.DeidentifiedDay;
import lumbrical.deidentify.DeidentifiedEpisode;
import lumbrical.deidentify.DeidentifiedForm;
import lumbrical.deidentify.Profile;

/** Says of each column of the input whether it leaves, in what form, and shows masked examples. */
final class ColumnDispositions {
    private static final int EXAMPLES = 3;
    private static final String RESPONSES = "responses of every instrument";

    private final Profile profile;
    private final RegistryFormat format;
    private final Map<String, TreeSet<String>> examples = new HashMap<>();

    private ColumnDispositions(Profile profile, RegistryFormat format) {
        this.profile = profile;
        this.format = format;
    }

    static List<ColumnDisposition> of(DeidentifiedDataset shipment, Intake intake, RegistryFormat format) {
        ColumnDispositions fates = new ColumnDispositions(shipment.profile(), format);
        shipment.contents().forEach(fates::look);
        List<ColumnDisposition> list = new ArrayList<>();
        list.add(fates.leaves("responses", "patient", "a pseudonym", "subject"));
        list.add(fates.leaves("responses", "episode", "a pseudonym", "episode"));
        list.add(fates.leaves("responses", "completed_on", fates.dates("from the index date"), "day"));
        list.add(fates.leaves("responses", "side", "as it is", "side"));
        for (String column : List.of("mode", "respondent", "language")) {
            list.add(fates.allowed("responses", column, column));
        }
        list.add(
                format == RegistryFormat.ADAM
                        ? stays("responses", RESPONSES, "this form sends the scores alone")
                        : fates.leaves("responses", RESPONSES, "codes as they are", "response"));
        intake.unusedColumns().forEach(c -> list.add(stays("responses", c, "not on the profile's list")));
        for (String column : intake.episodeColumns()) {
            list.add(fates.ofEpisodes(column));
        }
        return list;
    }

    private String dates(String from) {
        return switch (profile.dates()) {
            case WEEKS_FROM_INDEX -> "whole weeks " + from;
            case DAYS_FROM_INDEX -> "days " + from + ", and the year";
            case SHIFTED -> "a date moved by a secret number of days, the same for all dates of a patient";
        };
    }

    private String index() {
        return switch (profile.dates()) {
            case WEEKS_FROM_INDEX -> "week 0";
            case DAYS_FROM_INDEX -> "day 0, and the year";
            case SHIFTED -> dates("");
        };
    }

    private void look(DeidentifiedEpisode episode) {
        example("subject", episode.subject());
        example("episode", episode.id());
        episode.treatedSide().ifPresent(side -> example("treated_side", side.code()));
        episode.index().flatMap(DeidentifiedDay::iso).ifPresent(day -> example("index", day));
        episode.attributes().forEach(this::example);
        for (DeidentifiedForm form : episode.forms()) {
            form.day().week().ifPresent(week -> example("day", String.valueOf(week)));
            form.day().day().ifPresent(day -> example("day", String.valueOf(day)));
            form.side().ifPresent(side -> example("side", side.code()));
            form.attributes().forEach(this::example);
        }
    }

    private void example(String what, String value) {
        TreeSet<String> seen = examples.computeIfAbsent(what, w -> new TreeSet<>());
        if (seen.size() < EXAMPLES) {
            seen.add(masked(value));
        }
    }

    /** The first character and a star for each other one; a text of one character is all stars. */
    static String masked(String value) {
        return value.length() < 2 ? "*".repeat(value.length()) : value.charAt(0) + "*".repeat(value.length() - 1);
    }

    private ColumnDisposition leaves(String table, String column, String becomes, String example) {
        return new ColumnDisposition(
                table, column, true, becomes, List.copyOf(examples.getOrDefault(example, new TreeSet<>())));
    }

    private static ColumnDisposition stays(String table, String column, String why) {
        return new ColumnDisposition(table, column, false, why, List.of());
    }

    private ColumnDisposition ofEpisodes(String column) {
        return switch (column) {
            case "patient" -> leaves("episodes", column, "a pseudonym", "subject");
            case "episode" -> leaves("episodes", column, "a pseudonym", "episode");
            case "treated_side" ->
                leaves(
                        "episodes",
                        column,
                        format.sendsEveryColumn() ? "as it is" : "as the side of the forms and hands",
                        "treated_side");
            case "index_date" -> leaves("episodes", column, index(), "index");
            case "birth_year" ->
                profile.column("age").isPresent()
                        ? renamed(column, "age", "age at the index date, ages over 89 as 90")
                        : renamed(column, "age_band", "age at the index date by tens, ages over 89 as 90+");
            case "closed_on" ->
                profile.column("closed_day").isPresent()
                        ? renamed(column, "closed_day", "days from the index date")
                        : renamed(column, "closed_week", "whole weeks from the index date");
            case "share" -> stays("episodes", column, "it decides which episodes stay at home");
            case "forms" -> stays("episodes", column, "nothing in the files needs it");
            default -> allowed("episodes", column, column);
        };
    }

    private ColumnDisposition renamed(String column, String as, String becomes) {
        return profile.column(as).isPresent()
                ? leaves("episodes", column, becomes, as)
                : stays("episodes", column, whyNot(as) + " (as " + as + ")");
    }

    private ColumnDisposition allowed(String table, String column, String example) {
        Optional<Profile.AllowedColumn> allowed = profile.columns().stream()
                .filter(c -> c.name().equalsIgnoreCase(column))
                .findFirst();
        return allowed.map(a -> leaves(table, column, becomes(a), example))
                .orElseGet(() -> stays(table, column, whyNot(column)));
    }

    private String becomes(Profile.AllowedColumn allowed) {
        if (allowed.values().isEmpty()) {
            return "as it is";
        }
        return format.sendsEveryColumn() || !allowed.name().equals("closed_reason")
                ? "values on the profile's list; any other is left blank"
                : "a death alone; this form has no place for other reasons";
    }

    /** A profile that was narrowed to the form no longer tells whether it named the column. */
    private String whyNot(String column) {
        return format.hasPlaceFor(column) ? "not on the profile's list" : "this form has no place for it";
    }
}
