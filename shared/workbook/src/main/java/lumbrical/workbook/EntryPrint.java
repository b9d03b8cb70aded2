package lumbrical.workbook;

import java.util.List;
import lumbrical.instrument.Instrument;

final class EntryPrint {
    static void write(StreamingWorkbook book, List<Instrument> instruments, List<EntryForm.Field> fields, int rows) {}
}
