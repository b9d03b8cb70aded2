package lumbrical.fhir;

import java.nio.charset.StandardCharsets;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.HexFormat;
import java.util.List;
import java.util.Map;
import java.util.Set;
import lumbrical.change.Verdict;
import lumbrical.instrument.Column;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.ResponseSet;
import lumbrical.instrument.Scale;
import lumbrical.number.Numbers;

/**
 * Our code systems, one for each instrument's scores and each of its sets of responses, whole whatever is sent. The version is a hash of
 * the content, so that systems of two releases stand beside each other with a receiver and none takes away codes of the other.
 */
final class CodeSystems {
    private static final int VERSION_DIGITS = 12;

    /** A code system. */
    record System(String url, String name, String title, String version, List<JsonObject> concepts) {}

    private final Map<String, System> byUrl = new HashMap<>();
    private final List<System> all = new ArrayList<>();

    CodeSystems(List<Instrument> instruments) {
        add(
                FhirCodes.CHANGE_TERMS,
                "ChangeTerms",
                "What belongs to a score or its change",
                List.of(
                        code(FhirCodes.STANDARD_ERROR, "standard error of the score"),
                        code(FhirCodes.IMPROVEMENT, "improvement, positive when better"),
                        code(FhirCodes.MCID, "MCID used"),
                        code(FhirCodes.MDC, "MDC used")));
        List<JsonObject> verdicts = new ArrayList<>();
        for (Verdict verdict : Verdict.values()) {
            verdicts.add(code(verdict.code(), verdict.words()));
        }
        add(FhirCodes.VERDICTS, "Verdicts", "What a change amounts to; worsening mirrors improvement", verdicts);
        instruments.forEach(this::scores);
        instruments.forEach(this::responses);
    }

    List<System> all() {
        return List.copyOf(all);
    }

    /** A coding with the version of its system. */
    JsonObject coding(String system, String code, String display) {
        return new JsonObject()
                .put("system", system)
                .put("version", version(system))
                .put("code", code)
                .put("display", display);
    }

    /** @throws IllegalArgumentException if the system is none of these */
    private String version(String system) {
        System known = byUrl.get(system);
        if (known == null) {
            throw new IllegalArgumentException(system + " is no code system of these instruments");
        }
        return known.version();
    }

    private void add(String url, String name, String title, List<JsonObject> concepts) {
        StringBuilder content = new StringBuilder(url).append('\n').append(title);
        concepts.forEach(c -> content.append('\n').append(c.text()));
        System system = new System(url, name, title, hash(content.toString()), List.copyOf(concepts));
        byUrl.put(url, system);
        all.add(system);
    }

    private static JsonObject code(String code, String display) {
        return new JsonObject().put("code", code).put("display", display);
    }

    /** An instrument without a score has no such system: one that is complete and empty says nothing. */
    private void scores(Instrument instrument) {
        if (instrument.scales().isEmpty()) {
            return;
        }
        List<JsonObject> concepts = new ArrayList<>();
        for (Scale scale : instrument.scales()) {
            String display = FhirCodes.display(instrument, scale);
            concepts.add(code(FhirCodes.score(instrument, scale), display)
                    .put(
                            "definition",
                            "Possible from " + Numbers.format(scale.range().low()) + " to "
                                    + Numbers.format(scale.range().high()) + "; "
                                    + scale.better().code() + " is better."));
            concepts.add(code(FhirCodes.change(instrument, scale), display + ", change from baseline")
                    .put("definition", "Follow-up minus baseline."));
        }
        add(
                FhirCodes.scores(instrument),
                FhirCodes.name(instrument.id() + " scores"),
                instrument.facts().title() + ": scores and their changes",
                concepts);
    }

    private void responses(Instrument instrument) {
        Set<String> sets = new HashSet<>();
        for (Column column : instrument.columns()) {
            if (column.item().responses() instanceof ResponseSet.Codes set && sets.add(set.name())) {
                List<JsonObject> concepts = new ArrayList<>();
                for (double value : set.codes()) {
                    String code = Numbers.format(value);
                    concepts.add(code(code, set.labels().getOrDefault(value, code)));
                }
                add(
                        FhirCodes.responses(instrument, set),
                        FhirCodes.name(instrument.id() + " " + set.name()),
                        instrument.facts().title() + ": responses",
                        concepts);
            }
        }
    }

    static String hash(String content) {
        try {
            byte[] whole = MessageDigest.getInstance("SHA-256").digest(content.getBytes(StandardCharsets.UTF_8));
            return HexFormat.of().formatHex(whole).substring(0, VERSION_DIGITS);
        } catch (NoSuchAlgorithmException e) {
            throw new IllegalStateException("Every Java platform has SHA-256", e);
        }
    }
}
