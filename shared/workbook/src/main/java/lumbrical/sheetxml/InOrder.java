package lumbrical.sheetxml;

import java.io.IOException;
import java.util.ArrayDeque;
import java.util.Deque;
import java.util.Iterator;
import java.util.concurrent.Callable;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.Executor;
import java.util.concurrent.FutureTask;

/**
 * Work that a thread of its own does ahead; its results are taken in the order in which the work was given. Whoever needs a result that
 * is not there yet makes it, or another that waits, so that a slow helper holds nobody up, and what comes out does not depend on threads.
 *
 * @param <T> a result
 */
public final class InOrder<T> {
    private final Executor helper;
    private final int most;
    private final Taker<T> taker;
    private final Deque<FutureTask<T>> waiting = new ArrayDeque<>();

    /** Takes results, one after the other, on the thread that gives the work. */
    public interface Taker<T> {
        /** @throws IOException if it cannot be written */
        void take(T result) throws IOException;
    }

    /** @param most results that may wait to be taken; with more, whoever gives work takes one */
    InOrder(Executor helper, int most, Taker<T> taker) {
        this.helper = helper;
        this.most = most;
        this.taker = taker;
    }

    /**
     * Has work done, and takes what is ready.
     *
     * @throws IOException if a result cannot be made or taken, or the thread is interrupted
     */
    public void add(Callable<T> work) throws IOException {
        FutureTask<T> task = new FutureTask<>(work);
        waiting.add(task);
        helper.execute(task);
        while (waiting.size() > most || !waiting.isEmpty() && waiting.getFirst().isDone()) {
            takeOldest();
        }
    }

    /**
     * Takes all that is left.
     *
     * @throws IOException if a result cannot be made or taken, or the thread is interrupted
     */
    public void finish() throws IOException {
        while (!waiting.isEmpty()) {
            takeOldest();
        }
    }

    private void takeOldest() throws IOException {
        FutureTask<T> oldest = waiting.remove();
        oldest.run(); // does nothing where the other thread has begun
        Iterator<FutureTask<T>> newest = waiting.descendingIterator();
        while (!oldest.isDone() && newest.hasNext()) {
            newest.next().run(); // rather than wait
        }
        T result;
        try {
            result = oldest.get();
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
            throw new IOException("Interrupted while a workbook was written", e);
        } catch (ExecutionException e) {
            if (e.getCause() instanceof Error error) {
                throw error;
            }
            if (e.getCause() instanceof RuntimeException thrown) {
                throw thrown;
            }
            if (e.getCause() instanceof IOException failed) {
                throw failed;
            }
            throw new IllegalStateException("Rows or blocks could not be made", e);
        }
        taker.take(result);
    }
}
