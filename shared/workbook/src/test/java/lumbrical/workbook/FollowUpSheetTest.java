package lumbrical.workbook;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.List;
import java.util.Map;
import java.util.stream.Collectors;
import lumbrical.columns.FollowUpColumns;
import lumbrical.followup.VisitCount;
import org.junit.jupiter.api.Test;

/** What came of what was expected: the invented demo clinic. */
class FollowUpSheetTest {
    private static Map<String, String> cells(VisitCount count) {
        return FollowUpSheet.TABLE.columns().stream()
                .collect(Collectors.toMap(c -> c.name(), c -> Cells.text(c.of().apply(count))));
    }

    /**
     * Wilson's interval, worked by hand from Newcombe 1998: of 13 bctq at 2 weeks 11 came, so with z2 = 3.841459 the centre is
     * (11 + 1.920729) / 16.841459 = 0.767198 and the half width 1.959964 / 16.841459 x sqrt(11 x 2 / 13 + 0.960365) = 0.189543.
     */
    @Test
    void aPercentageHasItsInterval() {
        VisitCount bctq = Written.demo().clinic().counts().stream()
                .filter(c -> cells(c).get("visit").equals("2 weeks")
                        && cells(c).get("instrument").equals("bctq"))
                .findFirst()
                .orElseThrow();
        assertEquals("13", cells(bctq).get("expected"));
        assertEquals("11", cells(bctq).get("received"));
        assertEquals("57.8 to 95.7", cells(bctq).get("received_interval"));
    }

    @Test
    void theColumnsOfTheFileStandInTheirOrder() {
        List<String> names = FollowUpSheet.TABLE.headings().stream()
                .filter(n -> !n.equals("received_interval"))
                .toList();
        assertEquals(FollowUpColumns.TABLE.headings(), names);
    }
}
