package lumbrical.output;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.io.File;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.concurrent.CountDownLatch;
import java.util.stream.Stream;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

/** A process that is ended while it writes, and whose writing thread goes on for as long as it can: nothing comes back. */
class EndedRunTest {
    @TempDir
    private Path folder;

    /** What is written when the end comes. */
    enum Written {
        FOLDER {
            @Override
            void write(Path target, Runnable end) {
                StagedFolder.at(target.toString(), false, "mark.json").fill(staging -> {
                    staging.file("data/first.csv", out -> 0);
                    end.run();
                    staging.file("data/second.csv", out -> {
                        System.out.print("a file came back, then ");
                        return 0;
                    });
                });
            }
        },
        FILE {
            @Override
            void write(Path target, Runnable end) {
                OutputFile.at(target.toString(), false).write(out -> end.run());
            }
        },
        FILE_BEGUN_LATE {
            @Override
            void write(Path target, Runnable end) {
                end.run();
                OutputFile.at(target.toString(), false).write(out -> {});
            }
        },
        FILE_WITH_SCRATCH {
            @Override
            void write(Path target, Runnable end) {
                OutputFile.at(target.toString(), false).writeWithScratch((out, scratch) -> {
                    Files.createFile(scratch.resolve("first"));
                    end.run();
                    Files.createFile(scratch.resolve("second"));
                });
            }
        };

        abstract void write(Path target, Runnable end);
    }

    /** The process to end: writes, ends itself as a signal would, waits until that is noticed, and goes on writing. */
    static final class Ended {
        private Ended() {}

        public static void main(String[] words) {
            CountDownLatch written = new CountDownLatch(1);
            Thread waiting = new Thread(() -> {
                try {
                    written.await();
                } catch (InterruptedException e) {
                    Thread.currentThread().interrupt();
                }
            });
            Runtime.getRuntime().addShutdownHook(waiting);
            try {
                OutputFile.at(words[1] + "-before", false).write(out -> {});
                Written.valueOf(words[0]).write(Path.of(words[1]), Ended::end);
                System.out.print("written");
            } catch (UncheckedIOException e) {
                System.out.print("refused");
            } finally {
                System.out.flush();
                written.countDown();
            }
        }

        private static void end() {
            new Thread(() -> System.exit(0)).start();
            while (!OutputFile.runEnded()) {
                Thread.onSpinWait();
            }
        }
    }

    @ParameterizedTest
    @EnumSource(Written.class)
    void nothingComesBack(Written written) throws IOException, InterruptedException {
        Process process = new ProcessBuilder(
                        Path.of(System.getProperty("java.home"), "bin", "java").toString(),
                        "-cp",
                        Path.of("target", "classes") + File.pathSeparator + Path.of("target", "test-classes"),
                        Ended.class.getName(),
                        written.name(),
                        folder.resolve("up").toString())
                .redirectErrorStream(true)
                .start();
        String told = new String(process.getInputStream().readAllBytes(), StandardCharsets.UTF_8);
        process.waitFor();
        assertEquals("refused", told);
        try (Stream<Path> files = Files.list(folder)) {
            assertEquals(
                    List.of("up-before"),
                    files.map(f -> String.valueOf(f.getFileName())).toList());
        }
    }
}
