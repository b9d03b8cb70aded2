package lumbrical.sheetxml;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertSame;
import static org.junit.jupiter.api.Assertions.assertThrows;

import java.io.IOException;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;

/** The order of results, whoever makes them (ours). */
class InOrderTest {
    private final List<Integer> taken = new ArrayList<>();

    @Test
    void aHelperThatNeverComesIsDoneWithout() throws IOException {
        InOrder<Integer> work = new InOrder<>(task -> {}, 3, taken::add);
        for (int i = 0; i < 10; i++) {
            int number = i;
            work.add(() -> number);
        }
        work.finish();
        assertEquals(IntStream.range(0, 10).boxed().toList(), taken);
    }

    @Test
    @Timeout(60)
    void aResultThatIsBeingMadeIsNotWaitedForWhileOthersCanBeMade() throws IOException, InterruptedException {
        ExecutorService helper = Executors.newSingleThreadExecutor();
        CountDownLatch begun = new CountDownLatch(1);
        CountDownLatch secondMade = new CountDownLatch(1);
        InOrder<Integer> work = new InOrder<>(helper, 1, taken::add);
        work.add(() -> {
            begun.countDown();
            secondMade.await(); // for ever, if the second were made after the first is taken
            return 1;
        });
        begun.await();
        work.add(() -> {
            secondMade.countDown();
            return 2;
        });
        work.finish();
        helper.shutdown();
        assertEquals(List.of(1, 2), taken);
    }

    @Test
    void whatWorkThrowsIsThrownAsItIs() throws IOException {
        InOrder<Integer> work = new InOrder<>(task -> {}, 3, taken::add);
        OutOfMemoryError full = new OutOfMemoryError("for the test");
        IllegalStateException wrong = new IllegalStateException("for the test");
        IOException unreadable = new IOException("for the test");
        work.add(() -> {
            throw full;
        });
        work.add(() -> {
            throw wrong;
        });
        work.add(() -> {
            throw unreadable;
        });
        assertSame(full, assertThrows(OutOfMemoryError.class, work::finish));
        assertSame(wrong, assertThrows(IllegalStateException.class, work::finish));
        assertSame(unreadable, assertThrows(IOException.class, work::finish));
    }
}
