package lumbrical.followup;

import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Deque;
import java.util.Iterator;
import java.util.List;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.ForkJoinPool;
import java.util.concurrent.FutureTask;
import java.util.function.Consumer;
import java.util.function.Function;

/** Has work done lot by lot, by other processors too, and hands on what it gives in the order of the lots. */
final class InLots {
    /** As few that the threads end together, as many that handing them over costs nothing beside the work. */
    private static final int LOT = 250;
    /** Lots that are worked on before they are handed on, so that few wait. */
    private static final int AHEAD = 8;

    private InLots() {}

    /**
     * Has each lot of {@code things} worked on. A single lot needs no other thread.
     *
     * @param work gives something of a lot and of nothing else, for several are worked on at once
     * @param taker takes what each lot gave, on the thread that calls this
     */
    static <T, R> void inOrder(Iterator<T> things, Function<List<T>, R> work, Consumer<R> taker) {
        List<T> lot = next(things);
        if (!things.hasNext()) {
            taker.accept(work.apply(lot));
            return;
        }
        Deque<FutureTask<R>> ahead = new ArrayDeque<>(AHEAD);
        while (!lot.isEmpty() || !ahead.isEmpty()) {
            while (!lot.isEmpty() && ahead.size() < AHEAD) {
                List<T> own = lot;
                FutureTask<R> task = new FutureTask<>(() -> work.apply(own));
                ahead.add(task);
                ForkJoinPool.commonPool().execute(task);
                lot = next(things);
            }
            taker.accept(oldest(ahead));
        }
    }

    private static <T> List<T> next(Iterator<T> things) {
        List<T> lot = new ArrayList<>(LOT);
        while (things.hasNext() && lot.size() < LOT) {
            lot.add(things.next());
        }
        return lot;
    }

    /** What the oldest lot gave; while another thread is at it this one works on those behind. */
    private static <R> R oldest(Deque<FutureTask<R>> ahead) {
        FutureTask<R> oldest = ahead.element();
        Iterator<FutureTask<R>> tasks = ahead.iterator();
        while (!oldest.isDone() && tasks.hasNext()) {
            tasks.next().run(); // nothing where another thread has begun it
        }
        ahead.remove();
        try {
            return oldest.get();
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
            throw new IllegalStateException("Interrupted while episodes were analysed", e);
        } catch (ExecutionException e) {
            if (e.getCause() instanceof Error error) {
                throw error;
            }
            throw e.getCause() instanceof RuntimeException failed ? failed : new IllegalStateException(e.getCause());
        }
    }
}
