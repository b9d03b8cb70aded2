package lumbrical.report.html;

import java.nio.charset.StandardCharsets;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.Base64;

/**
 * The content security policy of a page (W3C Content Security Policy Level 3): nothing is loaded from anywhere, and only the very style
 * sheet and script that the page was written with are used, known by the hash of their bytes.
 */
final class ContentPolicy {
    private ContentPolicy() {}

    static String of(String style, String script) {
        return "default-src 'none'; script-src '" + hash(script) + "'; style-src '" + hash(style)
                + "'; img-src data:; base-uri 'none'; form-action 'none'";
    }

    private static String hash(String text) {
        try {
            byte[] digest = MessageDigest.getInstance("SHA-256").digest(text.getBytes(StandardCharsets.UTF_8));
            return "sha256-" + Base64.getEncoder().encodeToString(digest);
        } catch (NoSuchAlgorithmException e) {
            throw new IllegalStateException("Every Java has SHA-256", e);
        }
    }
}
