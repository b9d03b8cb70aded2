package lumbrical.tabular;

import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.Charset;
import java.nio.file.AccessDeniedException;
import java.nio.file.Files;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.stream.Collectors;

/** Opens a table whatever its kind: CSV or XLSX, told by its first bytes. */
public final class TableFile {
    private TableFile() {}

    /** @throws UnreadableInputException if there is no such file or it is no table */
    public static void read(Input input, Optional<Charset> encoding, TableSink sink) {
        if (!Files.exists(input.path())) {
            throw new UnreadableInputException(input.place(), "there is no such file. Check the name and the folder.");
        }
        if (Files.isDirectory(input.path())) {
            throw new UnreadableInputException(input.place(), "this is a folder. Name a CSV or XLSX file in it.");
        }
        try {
            byte[] start = start(input);
            if (input.path().toString().toLowerCase(Locale.ROOT).endsWith(".ods")) {
                throw new UnreadableInputException(
                        input.place(),
                        "this is an OpenDocument spreadsheet (ODS). Open it and save as XLSX, then read that.");
            }
            if (start.length == 0) {
                throw new UnreadableInputException(input.place(), "the file is empty. Export it again.");
            }
            if (startsWith(start, 'P', 'K', 3, 4)) {
                SheetReader.read(input, sink);
            } else if (startsWith(start, 0xD0, 0xCF, 0x11, 0xE0)) {
                throw new UnreadableInputException(
                        input.place(),
                        "this is an old XLS workbook or one with a password. Save it as XLSX without a password.");
            } else if (startsWith(start, '%', 'P', 'D', 'F')) {
                throw noTable(input, "a PDF");
            } else if (startsWith(start, 0x89, 'P', 'N', 'G')
                    || startsWith(start, 0xFF, 0xD8, 0xFF)
                    || startsWith(start, 'G', 'I', 'F', '8')) {
                throw noTable(input, "a picture");
            } else {
                CsvReader.read(input, encoding, sink);
            }
        } catch (AccessDeniedException e) {
            throw new UnreadableInputException(
                    input.place(),
                    "the file may not be read. Close it in other programs, or ask for the right to read it.");
        } catch (IOException e) {
            throw new UnreadableInputException(input.place(), "the file cannot be read (" + detail(e) + ").");
        }
    }

    private static UnreadableInputException noTable(Input input, String what) {
        return new UnreadableInputException(
                input.place(),
                "this is " + what
                        + ", no table. Name the spreadsheet (XLSX) or CSV file from which it was made, or type the"
                        + " answers into an entry form.");
    }

    /** Whether a file is a workbook, in which a row ends at its last filled cell; told by its first bytes, false if it cannot be read. */
    public static boolean isWorkbook(Input input) {
        try {
            return startsWith(start(input), 'P', 'K', 3, 4);
        } catch (IOException e) {
            return false; // told where the file is read
        }
    }

    /** Names of the sheets of a workbook, in order; none for a file of another kind. */
    public static List<String> sheets(Input input) {
        try {
            return isWorkbook(input) ? SheetReader.names(input) : List.of();
        } catch (IOException e) {
            return List.of(); // told where the file is read
        }
    }

    /** A sentence on the sheets of a workbook none of which fits, with a blank before it; nothing if there is but one. */
    public static String sheetsRead(List<String> sheets) {
        return sheets.size() < 2
                ? ""
                : " Read was the sheet '" + Cells.printable(sheets.get(0)) + "'; the others are '"
                        + sheets.stream().skip(1).map(Cells::printable).collect(Collectors.joining("', '")) + "'.";
    }

    private static String detail(IOException e) {
        return Cells.printable(
                Optional.ofNullable(e.getMessage()).orElse(e.getClass().getSimpleName()));
    }

    private static byte[] start(Input input) throws IOException {
        try (InputStream in = Files.newInputStream(input.path())) {
            return in.readNBytes(4);
        }
    }

    private static boolean startsWith(byte[] bytes, int... expected) {
        if (bytes.length < expected.length) {
            return false;
        }
        for (int i = 0; i < expected.length; i++) {
            if ((bytes[i] & 0xFF) != expected[i]) {
                return false;
            }
        }
        return true;
    }
}
