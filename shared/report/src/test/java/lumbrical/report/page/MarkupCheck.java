package lumbrical.report.page;

import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.nio.charset.StandardCharsets;
import java.util.List;
import nu.validator.messages.MessageEmitterAdapter;
import nu.validator.messages.TextMessageEmitter;
import nu.validator.servlet.imagereview.ImageCollector;
import nu.validator.source.SourceCode;
import nu.validator.validation.SimpleDocumentValidator;
import org.xml.sax.InputSource;

/** Checks a page against the HTML standard with the Nu Html Checker, in this process. */
public final class MarkupCheck {
    private MarkupCheck() {}

    /** What the checker calls an error or a warning, one line each; it speaks of the standard and of nothing else. */
    public static List<String> faults(String page) throws Exception {
        ByteArrayOutputStream out = new ByteArrayOutputStream();
        SimpleDocumentValidator validator = new SimpleDocumentValidator(true, true, false);
        SourceCode source = validator.getSourceCode();
        MessageEmitterAdapter errors = new MessageEmitterAdapter(
                null, source, false, new ImageCollector(source), 0, false, new TextMessageEmitter(out, false));
        errors.setErrorsOnly(false);
        validator.setUpMainSchema(
                "http://s.validator.nu/html5-rdfalite.rnc", new nu.validator.xml.SystemErrErrorHandler());
        validator.setUpValidatorAndParsers(errors, true, false);
        errors.start(null);
        InputSource in = new InputSource(new ByteArrayInputStream(page.getBytes(StandardCharsets.UTF_8)));
        in.setEncoding("UTF-8");
        in.setSystemId("page.html");
        validator.checkHtmlInputSource(in);
        errors.end("", "", "");
        return out.toString(StandardCharsets.UTF_8)
                .lines()
                .filter(line -> line.contains("error") || line.contains("warning"))
                .toList();
    }
}
