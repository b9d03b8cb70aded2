package lumbrical.sheetxml;

import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.io.SequenceInputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.LocalDateTime;
import java.util.Collections;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.UnaryOperator;
import java.util.zip.ZipEntry;
import org.apache.commons.compress.archivers.zip.ZipArchiveEntry;
import org.apache.commons.compress.archivers.zip.ZipArchiveOutputStream;
import org.apache.poi.ooxml.POIXMLDocumentPart;
import org.apache.poi.openxml4j.exceptions.OpenXML4JRuntimeException;
import org.apache.poi.xssf.usermodel.XSSFSheet;
import org.apache.poi.xssf.usermodel.XSSFWorkbook;

/**
 * The rows of a workbook's sheets, and the file in which the workbook library's parts and they come together. The file has the plainest
 * form of the zip format: sizes before the data, no extensions, one fixed time for every part. As the library streams it, it would hold
 * either the time of the run or a form that some programs refuse to unpack.
 */
public final class PackedWorkbook implements AutoCloseable {
    /** Any fixed time will do; the format begins in 1980. */
    private static final LocalDateTime TIME = LocalDateTime.of(1980, 2, 1, 0, 0);

    private static final String SHARED_TEXTS = "xl/sharedStrings.xml";
    private static final String NO_ROWS = "<sheetData/>";

    /** Lots of rows that may wait to be written. */
    private static final int WAITING = 4;

    private final Path scratch;
    private final Packer packer = new Packer();
    private final RepeatedTexts repeated = new RepeatedTexts();
    private final Map<String, PackedPart> rows = new HashMap<>();
    private final Map<String, UnaryOperator<String>> completions = new HashMap<>();

    /** @param scratch a folder for temporary files, which the caller removes */
    public PackedWorkbook(Path scratch) {
        this.scratch = scratch;
    }

    /** The rows of a sheet, to be written from the first on. */
    public SheetRows rowsOf(XSSFSheet sheet) {
        return new SheetRows(packed(sheet), repeated);
    }

    /** The rows of a sheet as XML that somebody else makes. */
    public OutputStream part(XSSFSheet sheet) {
        return packed(sheet);
    }

    /** The notes of a sheet that has none yet. */
    public SheetNotes notesOf(XSSFSheet sheet) {
        return new SheetNotes(sheet, completions);
    }

    /**
     * Work on rows that a second thread does ahead.
     *
     * @param taker takes its results in the order in which the work is given
     */
    public <T> InOrder<T> inOrder(InOrder.Taker<T> taker) {
        return packer.inOrder(WAITING, taker);
    }

    private PackedPart packed(XSSFSheet sheet) {
        PackedPart part = new PackedPart(packer, scratch);
        rows.put(nameOf(sheet), part);
        return part;
    }

    /** The name of a part in the file. */
    static String nameOf(POIXMLDocumentPart part) {
        return part.getPackagePart().getPartName().getName().substring(1);
    }

    /**
     * Writes the workbook with the rows of its sheets.
     *
     * @throws IOException if it cannot be written
     */
    public void write(XSSFWorkbook book, OutputStream out) throws IOException {
        for (PackedPart part : rows.values()) {
            part.close();
        }
        Parts parts = new Parts(out);
        try {
            book.write(parts);
        } catch (OpenXML4JRuntimeException e) {
            if (parts.failed.isPresent()) {
                throw parts.failed.get(); // the library does not say why a part could not be saved
            }
            throw e;
        }
    }

    @Override
    public void close() throws IOException {
        try (packer) {
            for (PackedPart part : rows.values()) {
                part.discard();
            }
        }
    }

    private interface Writing {
        void run() throws IOException;
    }

    /** Takes the parts as the library saves them, and writes each with its rows. */
    private final class Parts extends ZipArchiveOutputStream {
        private final ZipArchiveOutputStream target;
        private final ByteArrayOutputStream content = new ByteArrayOutputStream();
        private String name = "";
        /** Why a part could not be written. */
        private Optional<IOException> failed = Optional.empty();

        Parts(OutputStream out) {
            super(OutputStream.nullOutputStream());
            target = new ZipArchiveOutputStream(out);
        }

        @Override
        public void putArchiveEntry(ZipArchiveEntry part) {
            name = part.getName();
            content.reset();
        }

        @Override
        public void write(byte[] bytes, int from, int length) {
            content.write(bytes, from, length);
        }

        @Override
        public void closeArchiveEntry() throws IOException {
            PackedPart middle = rows.get(name);
            if (middle == null) {
                byte[] whole = name.equals(SHARED_TEXTS) ? repeated.part() : completed();
                Packer.Packed packed = packer.last(whole);
                add(whole.length, packed.bytes().length, packed.crc(), new ByteArrayInputStream(packed.bytes()));
                return;
            }
            String around = content.toString(StandardCharsets.UTF_8);
            int at = around.indexOf(NO_ROWS);
            if (at < 0) {
                throw new IllegalStateException("A sheet has rows besides those written here: " + name);
            }
            byte[] opening = utf8(around.substring(0, at) + "<sheetData>\n");
            Packer.Packed before = packer.pack(opening, opening.length);
            Packer.Packed after = packer.last(utf8("</sheetData>" + around.substring(at + NO_ROWS.length())));
            int crc = Crc.concatenated(
                    Crc.concatenated(before.crc(), middle.crc(), middle.size()), after.crc(), after.length());
            try (InputStream stored = middle.packed()) {
                add(
                        before.length() + middle.size() + after.length(),
                        before.bytes().length + middle.packedSize() + after.bytes().length,
                        crc,
                        new SequenceInputStream(Collections.enumeration(List.of(
                                new ByteArrayInputStream(before.bytes()),
                                stored,
                                new ByteArrayInputStream(after.bytes())))));
            }
        }

        private byte[] completed() {
            UnaryOperator<String> completion = completions.get(name);
            return completion == null
                    ? content.toByteArray()
                    : utf8(completion.apply(content.toString(StandardCharsets.UTF_8)));
        }

        private static byte[] utf8(String text) {
            return text.getBytes(StandardCharsets.UTF_8);
        }

        private void add(long size, long packedSize, int crc, InputStream packed) throws IOException {
            ZipArchiveEntry plain = new ZipArchiveEntry(name);
            plain.setMethod(ZipEntry.DEFLATED);
            plain.setSize(size);
            plain.setCompressedSize(packedSize);
            plain.setCrc(Integer.toUnsignedLong(crc));
            plain.setTimeLocal(TIME);
            orTell(() -> target.addRawArchiveEntry(plain, packed));
        }

        @Override
        public void finish() throws IOException {
            orTell(() -> {
                target.finish();
                target.flush();
            });
        }

        private void orTell(Writing writing) throws IOException {
            try {
                writing.run();
            } catch (IOException e) {
                failed = Optional.of(e);
                throw e;
            }
        }
    }
}
