package lumbrical.workbook;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Path;
import java.util.List;
import lumbrical.problem.ProblemCode;
import org.apache.poi.ss.usermodel.FormulaEvaluator;
import org.apache.poi.ss.usermodel.Row;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** What a typed or pasted text means to the form is what it means to the reader of the saved file. */
class EntryFormTextsTest {
    @ParameterizedTest
    @ValueSource(strings = {"quickdash", "ulfi", "msacrah", "grc", "psfs"})
    void aTextMeansTheSameToTheFormAndToTheReader(String id, @TempDir Path folder) throws IOException {
        TypedTexts typed = TypedTexts.of(id);
        FormulaEvaluator evaluator = typed.book().getCreationHelper().createFormulaEvaluator();
        for (Row row : typed.book().getSheetAt(0)) {
            row.forEach(evaluator::evaluateFormulaCell);
        }
        Path file = folder.resolve("form.xlsx");
        typed.save(file);
        TypedTexts.Read read = TypedTexts.read(file);
        assertEquals(TypedTexts.rows(), read.forms().size());
        assertEquals(List.of(), typed.differences(read, FormVectors.stored(typed.book())));
        assertEquals(
                List.of(),
                read.problems().stream()
                        .filter(p -> p.code() == ProblemCode.FORM_SCORE_DIFFERS)
                        .toList());
        long allowed = read.forms().stream()
                .filter(f -> f.responses().value(0).isPresent())
                .count();
        assertTrue(allowed >= 5, "only " + allowed + " texts were responses");
        assertTrue(allowed <= TypedTexts.rows() - 20, "as many as " + allowed + " texts were responses");
    }
}
