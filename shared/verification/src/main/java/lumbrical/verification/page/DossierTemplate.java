package lumbrical.verification.page;

import gg.jte.html.OwaspHtmlTemplateOutput;
import gg.jte.output.WriterOutput;
import java.io.Writer;
import java.nio.charset.StandardCharsets;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.Base64;
import java.util.List;
import lumbrical.verification.Dossier;
import lumbrical.verification.FactProof;

/** Fills the template of the record. */
public final class DossierTemplate {
    /** How many vectors are named for a fact; the number of the others follows. */
    private static final int NAMED = 3;

    private static final String STYLE =
            """
            body{margin:0 auto;max-width:1100px;padding:0 20px 40px;font:16px/1.45 "Liberation Sans",Arial,sans-serif;color:#111;background:#fff}
            h1{font-size:26px}h2{font-size:21px;margin-top:32px;border-top:2px solid #111;padding-top:12px}h3{font-size:17px}
            table{border-collapse:collapse;width:100%;margin:8px 0 16px}
            th,td{text-align:left;vertical-align:top;padding:4px 12px 4px 0;border-bottom:1px solid #ccc;font-weight:400;overflow-wrap:anywhere}
            thead th{border-bottom:1px solid #111;font-weight:700}
            caption{text-align:left;color:#333;padding:4px 0}
            .line{border-bottom:1px solid #111;height:36px}
            .hash{font:13px "Liberation Mono",monospace}
            a{color:#0b4f7d}
            @media print{body{font-size:11px;max-width:none;padding:0}h2{break-before:page}thead{display:table-header-group}tr{break-inside:avoid}}
            """;

    private DossierTemplate() {}

    /**
     * Writes the page.
     *
     * @throws java.io.UncheckedIOException if it cannot be written
     */
    public static void write(Dossier dossier, Writer out) {
        JtedossierGenerated.render(new OwaspHtmlTemplateOutput(new WriterOutput(out)), null, dossier, STYLE, policy());
    }

    /** Nothing is loaded, and no style but this one is used (W3C Content Security Policy Level 3). */
    private static String policy() {
        try {
            byte[] digest = MessageDigest.getInstance("SHA-256").digest(STYLE.getBytes(StandardCharsets.UTF_8));
            return "default-src 'none'; style-src 'sha256-"
                    + Base64.getEncoder().encodeToString(digest) + "'; base-uri 'none'; form-action 'none'";
        } catch (NoSuchAlgorithmException e) {
            throw new IllegalStateException("Every Java platform has SHA-256", e);
        }
    }

    /** What notices the change of a fact. */
    static String noticed(FactProof.Fact fact) {
        if (fact.refused()) {
            return "the definition is refused";
        }
        List<String> red = fact.red();
        String named = String.join(", ", red.subList(0, Math.min(NAMED, red.size())));
        return red.size() <= NAMED ? named : named + " and " + (red.size() - NAMED) + " more";
    }
}
