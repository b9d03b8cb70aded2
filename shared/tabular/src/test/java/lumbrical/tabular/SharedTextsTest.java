package lumbrical.tabular;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;

import java.io.ByteArrayInputStream;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** The texts beside the sheets; what the file says about their number is not believed. */
class SharedTextsTest {
    private static InputStream table(String attributes, String items) {
        String xml = "<sst xmlns='http://schemas.openxmlformats.org/spreadsheetml/2006/main' " + attributes + ">"
                + items + "</sst>";
        return new ByteArrayInputStream(xml.getBytes(StandardCharsets.UTF_8));
    }

    /** ECMA-376 part 1, 18.4.9: both counts are optional. */
    @ParameterizedTest
    @ValueSource(strings = {"", "count='2' uniqueCount='2'", "count='0' uniqueCount='0'", "uniqueCount='900'"})
    void aTextIsFoundByItsNumber(String attributes) throws Exception {
        SharedTexts texts = new SharedTexts(100);
        assertEquals(Optional.empty(), texts.text(0), "before anything was read");
        texts.readFrom(table(attributes, "<si><t>one</t></si><si><t>two</t></si>"));
        assertEquals(Optional.of("one"), texts.text(0));
        assertEquals(Optional.of("two"), texts.text(1));
        assertEquals(Optional.empty(), texts.text(2));
        assertEquals(Optional.empty(), texts.text(-1));
    }

    @Test
    void moreCharactersThanTheLimitAreNotKept() throws Exception {
        SharedTexts texts = new SharedTexts(6);
        texts.readFrom(table("", "<si><t>one</t></si><si><t>two</t></si>"));
        assertEquals(Optional.of("two"), texts.text(1));
        assertThrows(SharedTexts.TooMuch.class, () -> new SharedTexts(5)
                .readFrom(table("uniqueCount='1'", "<si><t>one</t></si><si><t>two</t></si>")));
    }
}
