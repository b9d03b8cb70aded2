package lumbrical.report.page;

import com.deque.html.axecore.results.Results;
import com.deque.html.axecore.selenium.AxeBuilder;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.Base64;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.logging.Level;
import java.util.stream.Stream;
import java.util.stream.StreamSupport;
import org.openqa.selenium.chrome.ChromeDriver;
import org.openqa.selenium.chrome.ChromeDriverService;
import org.openqa.selenium.chrome.ChromeOptions;
import org.openqa.selenium.logging.LogEntry;
import org.openqa.selenium.logging.LogType;
import org.openqa.selenium.logging.LoggingPreferences;

/** Chromium through its driver, both as the machine has them; nothing is fetched. */
public final class Browser implements AutoCloseable {
    private static final List<String> WCAG_22_AA = List.of("wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa");
    private static final List<String> BROWSERS = List.of("chromium", "chromium-browser", "google-chrome");
    private static final List<String> SWITCHES = List.of(
            "--headless=new",
            "--no-sandbox",
            "--disable-gpu",
            "--disable-quic",
            "--no-first-run",
            "--disable-background-networking",
            "--disable-component-update",
            "--disable-sync",
            "--window-size=1240,1000");

    /** Half a minute of them. */
    private static final int MOST_LOOKS = 600;

    private final ChromeDriver driver;
    private final Path folder;

    private Browser(ChromeDriver driver, Path folder) {
        this.driver = driver;
        this.folder = folder;
    }

    private static Optional<Path> onPath(String program) {
        return Stream.of(System.getenv().getOrDefault("PATH", "").split(java.io.File.pathSeparator))
                .map(dir -> Path.of(dir, program))
                .filter(Files::isExecutable)
                .findFirst();
    }

    private static Optional<Path> browser() {
        return BROWSERS.stream().flatMap(name -> onPath(name).stream()).findFirst();
    }

    /** Whether the machine has a browser and its driver. */
    public static boolean isThere() {
        return browser().isPresent() && onPath("chromedriver").isPresent();
    }

    /** A browser with nothing remembered. */
    public static Browser start(Path folder) throws IOException {
        LoggingPreferences logs = new LoggingPreferences();
        logs.enable(LogType.BROWSER, Level.ALL);
        logs.enable(LogType.PERFORMANCE, Level.ALL);
        ChromeOptions options = new ChromeOptions();
        options.setBinary(browser().orElseThrow().toFile());
        options.addArguments(SWITCHES);
        options.addArguments("--user-data-dir=" + Files.createTempDirectory(folder, "profile"));
        options.setCapability("goog:loggingPrefs", logs);
        ChromeDriverService service = new ChromeDriverService.Builder()
                .usingDriverExecutable(onPath("chromedriver").orElseThrow().toFile())
                .build();
        ChromeDriver driver = new ChromeDriver(service, options);
        driver.manage().timeouts().scriptTimeout(Duration.ofMinutes(3));
        return new Browser(driver, folder);
    }

    /** Opens a page from a file. */
    public ChromeDriver open(String page) throws IOException {
        Path file = Files.createTempFile(folder, "page", ".html");
        Files.writeString(file, page, StandardCharsets.UTF_8);
        driver.get(file.toUri().toString());
        awaitReady(file.getFileName().toString());
        return driver;
    }

    /** The driver may come back before a new document has taken the old one's place. One that never does fails the test. */
    private void awaitReady(String name) {
        String ready = "return document.readyState === 'complete' && location.href.endsWith(arguments[0])";
        int looks = 0;
        while (!Boolean.TRUE.equals(driver.executeScript(ready, name))) {
            if (++looks > MOST_LOOKS) {
                throw new IllegalStateException("The page " + name + " did not open");
            }
            try {
                Thread.sleep(50);
            } catch (InterruptedException e) {
                throw new IllegalStateException("Interrupted while a page was opening", e);
            }
        }
    }

    /** The page as it prints, by the page's own size. */
    public byte[] pdf() {
        Object data = driver.executeCdpCommand(
                        "Page.printToPDF", Map.of("preferCSSPageSize", true, "printBackground", true))
                .get("data");
        return Base64.getDecoder().decode(String.valueOf(data));
    }

    /** Opens pages from now on with or without scripts. */
    public void scripts(boolean on) {
        driver.executeCdpCommand("Emulation.setScriptExecutionDisabled", Map.of("value", !on));
    }

    /** What the console said since the last question. */
    public List<String> console() {
        return entries(LogType.BROWSER).map(LogEntry::getMessage).toList();
    }

    /** What was asked for since the last question, other than files. */
    public List<String> requests() {
        return entries(LogType.PERFORMANCE)
                .map(LogEntry::getMessage)
                .filter(m -> m.contains("\"Network.requestWillBeSent\"") || m.contains("\"Network.webSocketCreated\""))
                .toList();
    }

    private Stream<LogEntry> entries(String type) {
        return StreamSupport.stream(driver.manage().logs().get(type).spliterator(), false);
    }

    /** What the checker of accessibility finds against WCAG 2.2 at level AA, one line each. */
    public static List<String> violations(ChromeDriver page) {
        Results results = new AxeBuilder().setTimeout(180).withTags(WCAG_22_AA).analyze(page);
        if (results.getPasses().size() <= 5) {
            throw new IllegalStateException("Rules that found something to check: "
                    + results.getPasses().size() + " " + results.getErrorMessage());
        }
        return results.getViolations().stream()
                .map(v -> v.getId() + ": " + v.getHelp() + " "
                        + v.getNodes().get(0).getHtml())
                .toList();
    }

    @Override
    public void close() {
        driver.quit();
    }
}
