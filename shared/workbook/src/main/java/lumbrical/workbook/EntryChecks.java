package lumbrical.workbook;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import lumbrical.instrument.Column;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.ResponseSet;
import lumbrical.number.Numbers;
import org.apache.poi.ss.usermodel.DataValidation;
import org.apache.poi.ss.usermodel.DataValidationConstraint;
import org.apache.poi.ss.usermodel.DataValidationConstraint.OperatorType;
import org.apache.poi.ss.usermodel.DataValidationHelper;
import org.apache.poi.ss.util.CellRangeAddress;
import org.apache.poi.ss.util.CellRangeAddressList;
import org.apache.poi.xssf.streaming.SXSSFSheet;
import org.apache.poi.xssf.usermodel.XSSFColor;
import org.apache.poi.xssf.usermodel.XSSFConditionalFormattingRule;
import org.apache.poi.xssf.usermodel.XSSFPatternFormatting;
import org.apache.poi.xssf.usermodel.XSSFSheetConditionalFormatting;

/** What an entry form checks while it is filled in: drop-downs, dates, sides; blanks of a row in use are tinted. */
final class EntryChecks {
    /** Limits of the workbook format. */
    private static final int LONGEST_TITLE = 32;

    private static final int LONGEST_TEXT = 255;

    private final SXSSFSheet sheet;
    private final DataValidationHelper helper;
    private final int rows;

    private EntryChecks(SXSSFSheet sheet, int rows) {
        this.sheet = sheet;
        this.rows = rows;
        this.helper = sheet.getDataValidationHelper();
    }

    static void add(
            StreamingWorkbook book, SXSSFSheet sheet, List<EntryForm.Field> fields, EntryCodes codes, int rows) {
        EntryChecks checks = new EntryChecks(sheet, rows);
        for (int i = 0; i < fields.size(); i++) {
            EntryForm.Field field = fields.get(i);
            if (field.heading().equals("completed_on")) {
                checks.check(
                        i,
                        checks.helper.createDateConstraint(
                                OperatorType.BETWEEN, "DATE(1990,1,1)", "TODAY()", "yyyy-mm-dd"),
                        "completed_on",
                        "Day on which the form was filled in, such as 2026-03-09.",
                        "Type a date that is not in the future, such as 2026-03-09.");
            } else if (field.heading().equals("side")) {
                checks.check(
                        i,
                        checks.helper.createFormulaListConstraint(codes.sides()),
                        "side",
                        "The hand the form is about.",
                        "Choose right, left or both, or leave the cell blank.");
            } else if (field.column().isPresent()) {
                checks.item(i, field.instrument().orElseThrow(), field.column().get(), codes);
            }
        }
        tintBlanks(book, fields, rows);
    }

    private void item(int position, Instrument instrument, Column column, EntryCodes codes) {
        ResponseSet set = column.item().responses();
        Optional<String> list = codes.of(instrument, set);
        DataValidationConstraint constraint = list.isPresent()
                ? helper.createFormulaListConstraint(list.get())
                : helper.createDecimalConstraint(
                        OperatorType.BETWEEN, Numbers.format(set.low()), Numbers.format(set.high()));
        check(
                position,
                constraint,
                column.name(),
                EntryForm.topic(column) + ". " + EntryForm.allowed(column),
                EntryCodes.inWords(set)
                        + ", or leave the cell blank if it was not answered. Two ticks: leave it blank.");
    }

    private void check(int position, DataValidationConstraint constraint, String title, String prompt, String error) {
        DataValidation check =
                helper.createValidation(constraint, new CellRangeAddressList(1, rows, position, position));
        check.setEmptyCellAllowed(true);
        check.setShowErrorBox(true);
        check.setErrorStyle(DataValidation.ErrorStyle.STOP);
        check.createErrorBox(cut(title, LONGEST_TITLE), cut(error, LONGEST_TEXT));
        check.setShowPromptBox(true);
        check.createPromptBox(cut(title, LONGEST_TITLE), cut(prompt, LONGEST_TEXT));
        sheet.addValidationData(check);
    }

    /** A prompt as long as the format of the workbook allows. */
    static String promptText(String text) {
        return cut(text, LONGEST_TEXT);
    }

    private static String cut(String text, int longest) {
        return text.length() <= longest ? text : text.substring(0, longest - 3) + "...";
    }

    private static void tintBlanks(StreamingWorkbook book, List<EntryForm.Field> fields, int rows) {
        List<CellRangeAddress> responses = new ArrayList<>();
        for (int i = 0; i < fields.size(); i++) {
            int first = i;
            while (i < fields.size() && fields.get(i).column().isPresent()) {
                i++;
            }
            if (i > first) {
                responses.add(new CellRangeAddress(1, rows, first, i - 1));
            }
        }
        if (responses.isEmpty()) {
            return;
        }
        XSSFSheetConditionalFormatting formatting =
                book.inMemory().getSheet(EntryForm.RESPONSES).getSheetConditionalFormatting();
        String cell = TableSheet.letters(responses.get(0).getFirstColumn()) + "2";
        XSSFConditionalFormattingRule rule =
                formatting.createConditionalFormattingRule("AND($A2<>\"\",ISBLANK(" + cell + "))");
        XSSFPatternFormatting fill = rule.createPatternFormatting();
        fill.setFillBackgroundColor(new XSSFColor(Styles.PALE_ORANGE));
        fill.setFillPattern(org.apache.poi.ss.usermodel.PatternFormatting.SOLID_FOREGROUND);
        formatting.addConditionalFormatting(responses.toArray(CellRangeAddress[]::new), rule);
    }
}
