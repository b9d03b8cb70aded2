package lumbrical.report;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static org.junit.jupiter.api.Assumptions.assumeTrue;

import java.io.IOException;
import java.nio.file.Path;
import java.util.List;
import lumbrical.report.page.Browser;
import lumbrical.report.page.InventedGroups;
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

/** The report of groups in a real browser. Where the machine has none, these tests say so and do not run. */
class CohortBrowserTest {
    private static final String DEMO = InventedGroups.demo();

    @TempDir
    static Path folder;

    private static Browser browser;

    @BeforeAll
    static void start() throws IOException {
        String why = "NOT RUN: the tests of the report in a real browser. This machine has no Chromium with its driver"
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

    private static long shown(ChromeDriver page, String selector) {
        return page.findElements(By.cssSelector(selector)).stream()
                .filter(WebElement::isDisplayed)
                .count();
    }

    @Test
    void noViolationOfWcag22IsFound() throws IOException {
        ChromeDriver page = browser.open(InventedGroups.demoOf(4));
        assertTrue(shown(page, ".three svg") > 6, "drawings of every kind: " + shown(page, ".three svg"));
        assertEquals(List.of(), Browser.violations(page));
        page.findElement(By.id("unfold")).click();
        assertTrue(shown(page, "details[open] table") > 10, "the numbers are unfolded");
        assertEquals(List.of(), Browser.violations(page), "with everything unfolded");
    }

    @Test
    void nothingIsAskedForAndTheConsoleIsQuiet() throws IOException {
        browser.requests();
        browser.console();
        browser.open(DEMO).findElement(By.id("unfold")).click();
        assertEquals(1, browser.requests().size(), "the report itself");
        assertEquals(List.of(), browser.console());
    }

    /** Presses the tabulator until the focus is on this element. */
    private static void tabTo(ChromeDriver page, String id) {
        for (int i = 0; i < 60 && !id.equals(page.switchTo().activeElement().getAttribute("id")); i++) {
            new Actions(page).sendKeys(Keys.TAB).perform();
        }
        assertEquals(id, page.switchTo().activeElement().getAttribute("id"));
    }

    @Test
    void theKeyboardAloneChoosesOpensAndUnfolds() throws IOException {
        ChromeDriver page = browser.open(DEMO);
        assertEquals(32, shown(page, "section.part"));
        tabTo(page, "f-g");
        new Actions(page).sendKeys("condition: dup").perform();
        assertEquals("2 of 32 sections", page.findElement(By.id("count")).getText());
        assertEquals(2, shown(page, "section.part"));
        assertEquals(1, shown(page, ".group"));
        tabTo(page, "clear");
        new Actions(page).sendKeys(Keys.ENTER).perform();
        assertEquals(32, shown(page, "section.part"));
        WebElement link = page.findElement(By.cssSelector("#rows a"));
        for (int i = 0; i < 9 && !page.switchTo().activeElement().equals(link); i++) {
            new Actions(page).sendKeys(Keys.TAB).perform();
        }
        new Actions(page).sendKeys(Keys.ENTER).perform();
        assertTrue(page.getCurrentUrl().endsWith(link.getAttribute("href").replaceAll(".*#", "#")));
        for (int i = 0; i < 9 && !page.switchTo().activeElement().getTagName().equals("summary"); i++) {
            new Actions(page).sendKeys(Keys.TAB).perform();
        }
        new Actions(page).sendKeys(Keys.ENTER).perform();
        assertTrue(page.findElement(By.cssSelector("details[open] table")).isDisplayed());
    }

    @Test
    void withoutScriptsEverythingIsThere() throws IOException {
        browser.scripts(false);
        try {
            ChromeDriver page = browser.open(DEMO);
            assertFalse(page.findElement(By.id("filters")).isDisplayed(), "no control that does nothing");
            assertEquals(32, shown(page, "section.part"));
            page.findElement(By.cssSelector("summary")).click();
            assertTrue(page.findElement(By.cssSelector("details[open] table")).isDisplayed());
        } finally {
            browser.scripts(true);
        }
    }

    @Test
    void thePolicyStopsAScriptThatIsNotTheReports() throws IOException {
        browser.console();
        ChromeDriver page = browser.open(DEMO.replace("</main>", "<script>document.title = 'other'</script></main>"));
        assertFalse(page.getTitle().equals("other"));
        assertFalse(browser.console().isEmpty());
    }

    @Test
    void itPrintsOnA4InTypeThatCanBeRead() throws IOException {
        browser.open(DEMO);
        PrintedPages pages = PrintedPages.of(browser.pdf());
        assertTrue(pages.a4());
        assertTrue(pages.smallestType() >= 7, "type of " + pages.smallestType() + " points");
        assertTrue(pages.count() < 60, "sheets: " + pages.count());
        assertTrue(pages.text().contains("Groups that were not randomised differ in more than their treatment."));
        assertTrue(pages.text().contains("Printed are the main scales"));
        assertTrue(pages.text().contains("The unit is the episode"));
        assertFalse(pages.text().contains("Numbers by visit"), "what is folded is for the screen");
    }

    @Test
    void nothingIsWiderThanTheWindow() throws IOException {
        ChromeDriver page = browser.open(DEMO);
        assertEquals(
                Boolean.TRUE,
                page.executeScript(
                        "return document.documentElement.scrollWidth <= document.documentElement.clientWidth"));
    }
}
