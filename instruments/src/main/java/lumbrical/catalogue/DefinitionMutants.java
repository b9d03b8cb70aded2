package lumbrical.catalogue;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.UnaryOperator;
import lumbrical.document.Json;
import lumbrical.instrument.Instrument;

/**
 * A definition with one fact changed by one, for each fact that a score rests on: codes and ends of the response sets that a scale
 * uses, which end of an item or a scale is the good one, the items and parts of a scale and which are turned round, constants and
 * tables of formulas, the limits of the missing-item rules, skips, ranges, and the averaging of hands. What notices none of the
 * changes of a fact does not hold that fact.
 */
public final class DefinitionMutants {
    private final String name;
    private final Json.Obj top;
    private final List<Mutant> mutants = new ArrayList<>();

    /**
     * A definition with one fact changed.
     *
     * @param fact which, and how it was changed
     * @param instrument what the definition then says; empty if the reader of definitions refuses it
     */
    public record Mutant(String fact, Optional<Instrument> instrument) {}

    private DefinitionMutants(String name, Json.Obj top) {
        this.name = name;
        this.top = top;
    }

    /** The changed definitions of a shipped instrument in its newest version. */
    public static List<Mutant> ofBuiltIn(String id) {
        return of(id + ".json", Resources.bytes("definitions/" + id + ".json"));
    }

    /**
     * The changed definitions of the one in {@code bytes}.
     *
     * @param name of its file, for messages
     * @throws DefinitionFaultsException if the definition has a fault itself
     */
    public static List<Mutant> of(String name, byte[] bytes) {
        DefinitionReader.read(name, bytes);
        try {
            DefinitionMutants all = new DefinitionMutants(name, (Json.Obj) Json.parse(bytes));
            all.responseSets();
            all.items();
            all.scales();
            if (all.top.members().containsKey("hands")) {
                all.add("hands: none", without(all.top, "hands"));
            }
            return List.copyOf(all.mutants);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    private void responseSets() {
        Json.Obj sets = object(top, "responseSets");
        for (Map.Entry<String, Json> entry : sets.members().entrySet()) {
            Json.Obj set = (Json.Obj) entry.getValue();
            String at = "responseSets." + entry.getKey();
            if (set.members().get("codes") instanceof Json.Arr codes) {
                for (Json code : codes.elements()) {
                    List<Json> fewer = new ArrayList<>(codes.elements());
                    fewer.remove(code);
                    set(
                            at + ".codes: without " + number(code),
                            entry.getKey(),
                            with(set, "codes", new Json.Arr(fewer)));
                }
                double[] values = codes.elements().stream()
                        .mapToDouble(DefinitionMutants::number)
                        .sorted()
                        .toArray();
                for (double more : new double[] {values[0] - 1, values[values.length - 1] + 1}) {
                    List<Json> longer = new ArrayList<>(codes.elements());
                    longer.add(more < values[0] ? 0 : longer.size(), new Json.Num(more));
                    set(at + ".codes: with " + more, entry.getKey(), with(set, "codes", new Json.Arr(longer)));
                }
            } else if (set.members().get("range") instanceof Json.Arr range) {
                for (int end = 0; end < 2; end++) {
                    for (int by : new int[] {-1, 1}) {
                        set(
                                at + ".range[" + end + "]: "
                                        + (number(range.elements().get(end)) + by),
                                entry.getKey(),
                                with(set, "range", moved(range, end, by)));
                    }
                }
            }
        }
    }

    private void set(String fact, String key, Json.Obj changed) {
        // labels of codes that are gone would be refused for another reason than the code
        Json.Obj sets = with(object(top, "responseSets"), key, without(changed, "labels"));
        add(fact, with(top, "responseSets", sets));
    }

    private void items() {
        Json.Arr items = array(top, "items");
        for (int i = 0; i < items.elements().size(); i++) {
            Json.Obj item = (Json.Obj) items.elements().get(i);
            add("items." + text(item, "id") + ".better: turned round", with(top, "items", at(items, i, flipped(item))));
        }
    }

    private static Json.Obj flipped(Json.Obj object) {
        return with(object, "better", new Json.Text(text(object, "better").equals("lower") ? "higher" : "lower"));
    }

    private void scales() {
        Json.Arr scales = array(top, "scales");
        for (int i = 0; i < scales.elements().size(); i++) {
            int index = i;
            Json.Obj scale = (Json.Obj) scales.elements().get(i);
            Scale of = new Scale(
                    "scales." + text(scale, "id"), scale, changed -> with(top, "scales", at(scales, index, changed)));
            of.change("better: turned round", flipped(scale));
            for (int end = 0; end < 2; end++) {
                of.change("range[" + end + "]: one more", with(scale, "range", moved(array(scale, "range"), end, 1)));
                of.change("range[" + end + "]: one less", with(scale, "range", moved(array(scale, "range"), end, -1)));
            }
            members(of, scale.members().containsKey("parts") ? "parts" : "items");
            rule(of, object(scale, "rule"));
            if (scale.members().get("missing") instanceof Json.Obj missing) {
                missing(of, missing);
            }
            if (scale.members().get("skip") instanceof Json.Obj skip) {
                of.change("skip: none", without(scale, "skip"));
                of.numbers("skip", skip, List.of("code", "score"));
            }
        }
    }

    /** A scale and how the definition is put together again round a changed one. */
    private final class Scale {
        private final String at;
        private final Json.Obj scale;
        private final UnaryOperator<Json.Obj> around;

        Scale(String at, Json.Obj scale, UnaryOperator<Json.Obj> around) {
            this.at = at;
            this.scale = scale;
            this.around = around;
        }

        void change(String what, Json.Obj changed) {
            add(at + "." + what, around.apply(changed));
        }

        /** Each of these numbers, where there is one, one more and one less. */
        void numbers(String key, Json.Obj object, List<String> names) {
            for (String number : names) {
                if (object.members().get(number) instanceof Json.Num value) {
                    for (int by : new int[] {-1, 1}) {
                        Json.Obj changed = with(object, number, new Json.Num(value.value() + by));
                        change(key + "." + number + ": " + (value.value() + by), with(scale, key, changed));
                    }
                }
            }
        }
    }

    private static void members(Scale of, String key) {
        Json.Arr members = array(of.scale, key);
        for (int i = 0; i < members.elements().size(); i++) {
            Json member = members.elements().get(i);
            String field = key.equals("parts") ? "scale" : "item";
            String id = member instanceof Json.Text t ? t.value() : text((Json.Obj) member, field);
            List<Json> fewer = new ArrayList<>(members.elements());
            fewer.remove(i);
            Json.Obj without = with(of.scale, key, new Json.Arr(fewer));
            of.change(key + ": without " + id, without);
            boolean reversed =
                    member instanceof Json.Obj o && o.members().get("reversed") instanceof Json.Bool b && b.value();
            Json.Obj turned = new Json.Obj(Map.of(field, new Json.Text(id), "reversed", new Json.Bool(!reversed)));
            of.change(key + "." + id + ": turned round", with(of.scale, key, at(members, i, turned)));
        }
    }

    private static void rule(Scale of, Json.Obj rule) {
        of.numbers("rule", rule, List.of("minus", "times", "dividedBy", "zeroAt", "hundredAt"));
        if (!rule.members().containsKey("dividedBy") && text(rule, "kind").equals("sum")) {
            of.change("rule.dividedBy: 2", with(of.scale, "rule", with(rule, "dividedBy", new Json.Num(2))));
        }
        if (rule.members().get("rows") instanceof Json.Arr rows) {
            for (int i = 0; i < rows.elements().size(); i++) {
                Json.Obj row = (Json.Obj) rows.elements().get(i);
                for (String key : List.of("score", "standardError")) {
                    // by a tenth, the last digit of such tables, so that the table still rises
                    Json.Obj changed =
                            with(row, key, new Json.Num(number(row.members().get(key)) + 0.1));
                    of.change(
                            "rule.rows[" + i + "]." + key + ": a tenth more",
                            with(of.scale, "rule", with(rule, "rows", at(rows, i, changed))));
                }
            }
        }
    }

    private static void missing(Scale of, Json.Obj missing) {
        Json.Obj none = without(with(missing, "kind", new Json.Text("none-allowed")), "minimum");
        if (missing.members().get("minimum") instanceof Json.Obj minimum) {
            of.change("missing: none allowed", with(of.scale, "missing", none));
            int items = array(of.scale, "items").elements().size();
            int required = required(minimum, items);
            for (int by : new int[] {-1, 1}) {
                Json.Obj other = new Json.Obj(Map.of("answered", new Json.Num(required + by)));
                of.change(
                        "missing.minimum: " + (required + by) + " of " + items,
                        with(of.scale, "missing", with(missing, "minimum", other)));
            }
        } else {
            Json.Obj allowed =
                    with(with(missing, "kind", new Json.Text("mean-of-answered")), "minimum", oneLess(of.scale));
            of.change("missing: one allowed", with(of.scale, "missing", allowed));
        }
    }

    private static Json.Obj oneLess(Json.Obj scale) {
        int items = array(scale, "items").elements().size();
        return new Json.Obj(Map.of("answered", new Json.Num(items - 1)));
    }

    private static int required(Json.Obj minimum, int items) {
        if (minimum.members().get("answered") instanceof Json.Num answered) {
            return (int) answered.value();
        }
        return minimum.members().get("atLeastPercent") instanceof Json.Num atLeast
                ? (int) Math.ceil(items * atLeast.value() / 100)
                : (int) Math.floor(items * number(minimum.members().get("moreThanPercent")) / 100) + 1;
    }

    private void add(String fact, Json.Obj changed) {
        mutants.add(new Mutant(fact, read(changed)));
    }

    private Optional<Instrument> read(Json.Obj changed) {
        try {
            return Optional.of(DefinitionReader.read(name, changed));
        } catch (DefinitionFaultsException e) {
            return Optional.empty();
        }
    }

    private static Json.Obj with(Json.Obj object, String key, Json value) {
        Map<String, Json> members = new LinkedHashMap<>(object.members());
        members.put(key, value);
        return new Json.Obj(members);
    }

    private static Json.Obj without(Json.Obj object, String key) {
        Map<String, Json> members = new LinkedHashMap<>(object.members());
        members.remove(key);
        return new Json.Obj(members);
    }

    private static Json.Arr at(Json.Arr array, int index, Json value) {
        List<Json> elements = new ArrayList<>(array.elements());
        elements.set(index, value);
        return new Json.Arr(elements);
    }

    private static Json.Arr moved(Json.Arr range, int end, int by) {
        return at(range, end, new Json.Num(number(range.elements().get(end)) + by));
    }

    private static Json.Obj object(Json.Obj object, String key) {
        return (Json.Obj) object.members().get(key);
    }

    private static Json.Arr array(Json.Obj object, String key) {
        return (Json.Arr) object.members().get(key);
    }

    private static String text(Json.Obj object, String key) {
        return ((Json.Text) object.members().get(key)).value();
    }

    private static double number(Json value) {
        return ((Json.Num) value).value();
    }
}
