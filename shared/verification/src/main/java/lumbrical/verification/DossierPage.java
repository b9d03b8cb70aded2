package lumbrical.verification;

import java.io.Writer;
import lumbrical.verification.page.DossierTemplate;

/** The validation record as one HTML file that needs nothing else. The same record gives the same bytes. */
public final class DossierPage {
    private DossierPage() {}

    /**
     * Writes the page.
     *
     * @throws java.io.UncheckedIOException if it cannot be written
     */
    public static void write(Dossier dossier, Writer out) {
        DossierTemplate.write(dossier, out);
    }
}
