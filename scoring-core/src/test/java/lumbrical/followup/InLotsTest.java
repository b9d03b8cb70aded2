package lumbrical.followup;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertSame;
import static org.junit.jupiter.api.Assertions.assertThrows;

import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Set;
import java.util.concurrent.CountDownLatch;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Whoever works on a lot, and whenever it is done, what is handed on is the same. */
class InLotsTest {
    private static List<Integer> numbers(int count) {
        return IntStream.range(0, count).boxed().toList();
    }

    @ParameterizedTest
    @ValueSource(ints = {0, 1, 249, 250, 251, 500, 2_000, 2_001, 10_007})
    void eachThingIsHandedOnOnceAndInItsPlace(int count) {
        List<Integer> taken = new ArrayList<>();
        InLots.inOrder(
                numbers(count).iterator(), lot -> lot.stream().map(n -> n * 2).toList(), taken::addAll);
        assertEquals(numbers(count).stream().map(n -> n * 2).toList(), taken);
    }

    @Test
    void lotsBehindAreWorkedOnWhileTheFirstWaits() {
        CountDownLatch behind = new CountDownLatch(1);
        List<Integer> taken = new ArrayList<>();
        InLots.inOrder(
                numbers(1_000).iterator(),
                lot -> {
                    if (lot.get(0) > 0) {
                        behind.countDown();
                    } else {
                        await(behind);
                    }
                    return lot;
                },
                taken::addAll);
        assertEquals(numbers(1_000), taken);
    }

    private static void await(CountDownLatch latch) {
        try {
            latch.await();
        } catch (InterruptedException e) {
            throw new IllegalStateException(e);
        }
    }

    @Test
    void whatIsHandedOnIsTakenByTheCaller() {
        Set<Thread> takers = new HashSet<>();
        InLots.inOrder(numbers(3_000).iterator(), lot -> lot, lot -> takers.add(Thread.currentThread()));
        assertEquals(Set.of(Thread.currentThread()), takers);
    }

    @Test
    void aFailureOfAnyLotIsTheCallers() {
        for (Throwable failure : List.of(new IllegalArgumentException("of a lot"), new OutOfMemoryError("of a lot"))) {
            for (int bad : List.of(0, 250, 2_600)) {
                Throwable thrown = assertThrows(
                        Throwable.class,
                        () -> InLots.inOrder(numbers(3_000).iterator(), lot -> failing(lot, bad, failure), lot -> {}));
                assertSame(failure, thrown);
            }
        }
    }

    private static List<Integer> failing(List<Integer> lot, int bad, Throwable failure) {
        if (lot.contains(bad) && failure instanceof Error error) {
            throw error;
        } else if (lot.contains(bad) && failure instanceof RuntimeException exception) {
            throw exception;
        }
        return lot;
    }
}
