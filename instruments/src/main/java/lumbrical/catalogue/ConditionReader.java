package lumbrical.catalogue;

import java.io.IOException;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import lumbrical.condition.Condition;
import lumbrical.condition.ConditionVocabulary;
import lumbrical.document.Faults;
import lumbrical.document.Json;
import lumbrical.document.Node;
import lumbrical.instrument.Provenance;
import lumbrical.instrument.Standing;

/** Reads the list of conditions. */
final class ConditionReader {
    private static final Map<String, Standing> STANDINGS = Node.words(Standing.values(), Standing::code);

    private ConditionReader() {}

    /** Read once, when first asked for. */
    private static final class BuiltIn {
        private static final ConditionVocabulary VOCABULARY =
                read("conditions.json", Resources.bytes("conditions.json"));
    }

    /** The conditions shipped with this library. */
    static ConditionVocabulary builtIn() {
        return BuiltIn.VOCABULARY;
    }

    /**
     * The conditions in {@code bytes}.
     *
     * @param file name used in messages
     * @throws DefinitionFaultsException if anything in it is wrong
     */
    static ConditionVocabulary read(String file, byte[] bytes) {
        Faults faults = new Faults();
        try {
            Node top = Node.of(Json.parse(bytes), "$", faults);
            List<String> sources = new ArrayList<>(List.of("ours", "from-memory"));
            top.elements("sources").forEach(e -> sources.add(source(e.node())));
            List<Condition> conditions = new ArrayList<>();
            for (Node.Element element : top.requiredElements("conditions")) {
                Node node = element.node();
                faults.attempt(element.path(), () -> condition(node, sources)).ifPresent(conditions::add);
            }
            top.refuseOtherKeys();
            ConditionVocabulary vocabulary = faults.attempt("$.conditions", () -> ConditionVocabulary.of(conditions))
                    .orElse(ConditionVocabulary.EMPTY);
            if (!faults.none()) {
                throw new DefinitionFaultsException(file, faults.lines());
            }
            return vocabulary;
        } catch (IOException e) {
            throw new DefinitionFaultsException(file, List.of("$: not readable as JSON: " + e.getMessage()));
        }
    }

    private static String source(Node node) {
        String key = node.text("key");
        node.text("citation");
        node.optionalText("where");
        node.refuseOtherKeys();
        return key;
    }

    private static Condition condition(Node node, List<String> sources) {
        List<Condition.Code> codes = node.elements("icd10").stream()
                .map(e -> code(e.node(), sources))
                .toList();
        Condition condition = new Condition(
                node.text("id"), node.text("label"), node.texts("synonyms"), provenance(node, sources), codes);
        node.refuseOtherKeys();
        return condition;
    }

    private static Condition.Code code(Node node, List<String> sources) {
        Condition.Code code = new Condition.Code(node.text("code"), provenance(node, sources));
        node.refuseOtherKeys();
        return code;
    }

    private static Provenance provenance(Node node, List<String> sources) {
        Standing standing = node.word("standing", STANDINGS, Standing.OURS);
        return new Provenance(standing, node.oneOf("source", sources, "ours"));
    }
}
