package lumbrical.report;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static org.junit.jupiter.api.Assumptions.assumeTrue;

import java.io.IOException;
import java.nio.file.Path;
import java.util.List;
import java.util.OptionalDouble;
import java.util.stream.IntStream;
import lumbrical.instrument.Instrument;
import lumbrical.report.page.Browser;
import lumbrical.report.page.Demo;
import lumbrical.report.page.InventedClinic;
import lumbrical.report.page.InventedClinic.Questionnaire;
import lumbrical.report.page.PrintedPages;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.openqa.selenium.By;
import org.openqa.selenium.Keys;
import org.openqa.selenium.WebElement;
import org.openqa.selenium.chrome.ChromeDriver;
import org.openqa.selenium.interactions.Actions;

/** Pages in a real browser: Chromium. Where the machine has none, these tests say so and do not run; all others do. */
class BrowserTest {
    @TempDir
    static Path folder;

    private static Browser browser;

    @BeforeAll
    static void start() throws IOException {
        String why = "NOT RUN: the tests of pages in a real browser. This machine has no Chromium with its driver"
                + " (Debian: apt-get install chromium chromium-driver).";
        if (!Browser.isThere()) {
            System.out.println(why);
        }
        assumeTrue(Browser.isThere(), why);
        browser = Browser.start(folder);
    }

    @AfterAll
    static void end() {
        if (browser != null) {
            browser.close();
        }
    }

    @Test
    void noViolationOfWcag22IsFound() throws IOException {
        for (String html : List.of(Demo.clinicOf(8), Demo.patients("P002"))) {
            ChromeDriver page = browser.open(html);
            assertEquals(List.of(), Browser.violations(page));
            page.executeScript("document.querySelectorAll('details').forEach(d => d.open = true)");
            assertEquals(List.of(), Browser.violations(page), "with everything unfolded");
        }
    }

    @Test
    void theCheckOfAccessibilityCanFail() throws IOException {
        assertFalse(Browser.violations(browser.open(Demo.patients("P001")
                        .replace("<html lang=\"en\">", "<html>")
                        .replace("<title>", "<desc>")
                        .replace("</title>", "</desc>")))
                .isEmpty());
    }

    @Test
    void nothingIsAskedForAndTheConsoleIsQuiet() throws IOException {
        browser.requests();
        browser.console();
        ChromeDriver page = browser.open(Demo.clinic());
        page.findElement(By.id("q")).sendKeys("p0");
        List<String> requests = browser.requests();
        assertEquals(1, requests.size(), "the page itself: " + requests);
        assertTrue(requests.get(0).contains("file://"));
        assertEquals(List.of(), browser.console());
    }

    private static long shown(ChromeDriver page) {
        return page.findElements(By.cssSelector("article")).stream()
                .filter(WebElement::isDisplayed)
                .count();
    }

    private static String focus(ChromeDriver page) {
        WebElement at = page.switchTo().activeElement();
        return at.getTagName() + " " + at.getAttribute("id");
    }

    /** Presses the tabulator until the focus is there. */
    private static void tabTo(ChromeDriver page, String wanted) {
        for (int i = 0; i < 200 && !focus(page).equals(wanted); i++) {
            new Actions(page).sendKeys(Keys.TAB).perform();
        }
        assertEquals(wanted, focus(page));
    }

    @Test
    void theKeyboardAloneSearchesFiltersOpensAndUnfolds() throws IOException {
        ChromeDriver page = browser.open(Demo.clinic());
        assertEquals(60, shown(page));
        tabTo(page, "input q");
        new Actions(page).sendKeys("p002").perform();
        assertEquals("3 of 60 episodes", page.findElement(By.id("count")).getText());
        assertEquals(3, shown(page));
        tabTo(page, "button clear");
        new Actions(page).sendKeys(Keys.SPACE).perform();
        assertEquals(60, shown(page));
        tabTo(page, "select f-v");
        new Actions(page).sendKeys("important worsening").perform();
        long worse = shown(page);
        assertTrue(worse > 0 && worse < 20, "some of the demo got worse: " + worse);
        assertEquals(
                worse,
                page.findElements(By.cssSelector("#rows tr[data-v~='important-worsening']"))
                        .size());
        tabTo(page, "button clear");
        new Actions(page).sendKeys(Keys.SPACE).perform();
        tabTo(page, "select f-d");
        new Actions(page).sendKeys("late").perform();
        assertTrue(shown(page) > 0 && shown(page) < 60);
        tabTo(page, "button clear");
        new Actions(page).sendKeys(Keys.ENTER).perform();
        WebElement link = page.findElement(By.cssSelector("#rows a"));
        for (int i = 0; i < 9 && !page.switchTo().activeElement().equals(link); i++) {
            new Actions(page).sendKeys(Keys.TAB).perform();
        }
        new Actions(page).sendKeys(Keys.ENTER).perform();
        assertTrue(page.getCurrentUrl().endsWith("#e1"));
        tabTo(page, "summary ");
        new Actions(page).sendKeys(Keys.ENTER).perform();
        assertTrue(page.findElement(By.cssSelector("details[open] pre")).isDisplayed());
    }

    @Test
    void withoutScriptsEverythingIsThere() throws IOException {
        String html = Demo.clinic();
        browser.scripts(false);
        try {
            ChromeDriver page = browser.open(html);
            assertFalse(page.findElement(By.id("filters")).isDisplayed(), "no control that does nothing");
            assertEquals(60, shown(page));
            assertEquals(60, page.findElements(By.cssSelector("#rows tr")).size());
            page.findElement(By.cssSelector("summary")).click();
            assertTrue(page.findElement(By.cssSelector("details[open] pre")).isDisplayed());
        } finally {
            browser.scripts(true);
        }
    }

    @Test
    void thePolicyStopsAScriptThatIsNotThePages() throws IOException {
        ChromeDriver page = browser.open(
                Demo.patients("P001").replace("</main>", "<script>document.title = 'other'</script></main>"));
        assertFalse(page.getTitle().equals("other"));
        assertFalse(browser.console().isEmpty());
    }

    private static PrintedPages printed(String html) throws IOException {
        browser.open(html);
        return PrintedPages.of(browser.pdf());
    }

    @Test
    void everyPatientOfTheDemoPrintsOnOneSheet() throws IOException {
        for (String patient : PatientPages.patients(Demo.content())) {
            PrintedPages pages = printed(Demo.patients(patient));
            assertEquals(1, pages.count(), patient);
            assertTrue(pages.a4(), patient + " on A4");
            assertTrue(pages.smallestType() >= 7, patient + ": type of " + pages.smallestType() + " points");
            assertTrue(pages.text().contains("Longer tables"), "the sheet says that there is more on the screen");
        }
    }

    @Test
    void severalPatientsPrintASheetEach() throws IOException {
        assertEquals(3, printed(Demo.patients("P001", "P002", "P003")).count());
        assertEquals(48, printed(Demo.clinic()).count());
    }

    static InventedClinic crowded(int episodes, int scales) {
        Instrument instrument = new Questionnaire()
                .scales(scales)
                .id("ofratherlongname")
                .thresholds(OptionalDouble.of(15), OptionalDouble.of(10))
                .build();
        InventedClinic clinic = new InventedClinic();
        for (int e = 1; e <= episodes; e++) {
            clinic.with(InventedClinic.episode("P1", "E" + e).build())
                    .form("P1", "E" + e, -3, instrument, 8, 6)
                    .form("P1", "E" + e, 42, instrument, 8, 5)
                    .form("P1", "E" + e, 183, instrument, 8, 5)
                    .form("P1", "E" + e, 365, instrument, 5, 2);
        }
        return clinic;
    }

    private static PrintedPages crowdedSheet(int episodes, int scales) throws IOException {
        return printed(Demo.write(crowded(episodes, scales).content(), List.of("P1")));
    }

    @Test
    void threeCrowdedEpisodesOrTwelveScalesStillPrintOnOneSheet() throws IOException {
        int[][] sizes = {{3, 4}, {2, 6}, {1, 12}, {3, 1}, {1, 4}};
        for (int[] size : sizes) {
            PrintedPages pages = crowdedSheet(size[0], size[1]);
            assertEquals(1, pages.count(), size[0] + " episodes of " + size[1] + " scales");
            assertTrue(pages.smallestType() >= 7);
        }
    }

    @Test
    void moreThanThatPrintsOnSheetsThatSaySo() throws IOException {
        PrintedPages episodes = crowdedSheet(4, 3);
        PrintedPages scales = crowdedSheet(1, 13);
        assertEquals(2, episodes.count());
        assertEquals(2, scales.count());
        IntStream.of(1, 2).forEach(sheet -> List.of(episodes, scales)
                .forEach(pages ->
                        assertTrue(pages.text(sheet).contains("sheet " + sheet + " of 2"), pages.text(sheet))));
    }

    @Test
    void whatIsFilteredAwayIsNotPrinted() throws IOException {
        ChromeDriver page = browser.open(Demo.clinic());
        page.findElement(By.id("q")).sendKeys("p002");
        PrintedPages pages = PrintedPages.of(browser.pdf());
        assertEquals(1, pages.count());
        assertTrue(pages.text().contains("Patient P002"));
    }
}
