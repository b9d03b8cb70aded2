package lumbrical.fastpath;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import lumbrical.catalogue.Catalogue;
import lumbrical.intake.ReadOptions;
import lumbrical.tabular.Input;
import lumbrical.tabular.ProgressListener;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Which rows are read in blocks. What is read otherwise gives the same, so only its row tells. */
class PlainTableTest {
    @TempDir
    private Path folder;

    /** Lines after the header are parted by {@code /}; {@code plain} and {@code odd} say how each row was read, 'rest' what was left. */
    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            quoteCharacter = '\'',
            textBlock =
                    """
            P1,2026-03-09,right,t,5                        | plain
            "P1","2026-03-09","right","t, u","5"           | plain
            "P1",2026-03-09,"r","","-1"/P2,2026-03-09,,t,4 | odd plain
            P1,2026-03-09,right,"a ""b"" c",5              | odd
            "P,1",2026-03-09,right,t,5                     | odd
            P1,2026-03-09,right,"\u00e4",5                 | odd
            P1,2026-03-09,right,5'11",5                    | odd
            P1,2026-03-09,right,"t" ,5                     | rest from row 2
            P1,2026-03-09,right,"t                         | rest from row 2
            P1,2026-03-09,right,"t/,5                      | rest from row 2
            """)
    void quotesLeaveARowPlainAndALineBreakInACellDoesNot(String lines, String expected) throws IOException {
        String text = "\"patient\",completed_on,\"side\",remark,grc_1\n" + lines.replace('/', '\n') + "\n";
        PlainTable table = PlainTable.open(
                        new Input(Files.writeString(folder.resolve("a.csv"), text), Optional.empty()),
                        Catalogue.builtIn(),
                        ReadOptions.asOf(LocalDate.of(2026, 11, 25)))
                .orElseThrow();
        List<String> read = new ArrayList<>();
        table.read(
                        1,
                        new BlockProcessor<RowBlock, Boolean>() {
                            @Override
                            public Boolean process(RowBlock block) {
                                return true;
                            }

                            @Override
                            public void takeInOrder(RowBlock block, Boolean result) {
                                for (int row = 0; row < block.rows(); row++) {
                                    read.add(block.isPlain(row) ? "plain" : "odd");
                                }
                            }
                        },
                        ProgressListener.NONE)
                .ifPresent(rest -> read.add("rest from row " + rest.row()));
        assertEquals(expected, String.join(" ", read));
    }

    /** The same of a long table; {@code /} parts the lines, and each run of rows that belong together begins with its patient. */
    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            quoteCharacter = '\'',
            textBlock =
                    """
            P1,2026-03-09,right,nprs,rest,5                                     | P1 rest=5
            P1,2026-03-09,right,nprs,rest,5/P1,2026-03-09,right,NPRS,Worst,     | P1 rest=5 worst=
            P1,2026-03-09,right,nprs,rest,5/P1,2026-03-09,left,nprs,rest,10     | P1 rest=5 P1 rest=10
            P1,2026-03-09,r,nprs,rest,5/P1,2026-03-09,right,nprs,rest,5         | P1 rest=5 rest=5
            P1,2026-03-09,right,nprs,rest,5/P2,2026-03-09,right,nprs,rest,5     | P1 rest=5 P2 rest=5
            P1,2026-03-09,right,nprs,rest,5/P1,2026-03-08,right,nprs,rest,5     | P1 rest=5 P1 rest=5
            "P,1","2026-03-09","right","nprs","nprs_rest","05"                  | P,1 rest=5
            P1,2026-03-09,,nprs,rest,11/P1,2026-03-09,,nprs,rest,1              | odd P1 rest=1
            P1,2026-03-09,,nprs,best,1/P1,2026-03-09,,npsr,rest,1               | odd odd
            P1,2026-03-09,,nprs,rest/P1,2026-03-09,,nprs,rest,1,                | odd odd
            =P1,2026-03-09,,nprs,rest,1/ P1,2026-03-09,,nprs,rest,1             | odd odd
            P1,2026-02-29,,nprs,rest,1/P1,2026-11-26,,nprs,rest,1               | odd odd
            P1,1899-12-31,,nprs,rest,1/P1,2026-03-9,,nprs,rest,1                | odd odd
            P1,2026-03-09,upper,nprs,rest,1/Ö,2026-03-09,,nprs,rest,1      | odd odd
            P1,2026-03-09,,nprs,rest,1/"P1,2026-03-09,,nprs,rest,1              | rest from row 2
            """)
    void theRowsOfALongTableAreReadInBlocks(String lines, String expected) throws IOException {
        String text = "patient,completed_on,side,\"instrument\",item,response\n" + lines.replace('/', '\n') + "\n";
        PlainTable table = PlainTable.open(
                        new Input(Files.writeString(folder.resolve("a.csv"), text), Optional.empty()),
                        Catalogue.builtIn(),
                        ReadOptions.asOf(LocalDate.of(2026, 11, 25)))
                .orElseThrow();
        List<String> read = new ArrayList<>();
        BlockProcessor<LongBlock, Boolean> reader = new BlockProcessor<>() {
            @Override
            public Boolean process(LongBlock block) {
                return true;
            }

            @Override
            public void takeInOrder(LongBlock block, Boolean result) {
                int run = -1;
                for (int row = 0; row < block.rows(); row++) {
                    if (block.isOdd(row)) {
                        read.add("odd");
                        continue;
                    }
                    if (block.run(row) != run) {
                        run = block.run(row);
                        read.add(PlainCells.text(block.text().bytes(), block.patientStart(run), block.patientEnd(run)));
                    }
                    String code = block.code(row) == PlainCells.BLANK ? "" : Integer.toString(block.code(row));
                    read.add(block.column(row).column().shortName() + "=" + code);
                }
            }
        };
        table.readLong(1, reader, ProgressListener.NONE).ifPresent(rest -> read.add("rest from row " + rest.row()));
        assertEquals(expected, String.join(" ", read));
    }
}
