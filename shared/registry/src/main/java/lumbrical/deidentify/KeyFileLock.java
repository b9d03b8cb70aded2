package lumbrical.deidentify;

import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.channels.FileChannel;
import java.nio.channels.FileLock;
import java.nio.channels.OverlappingFileLockException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.util.Optional;
import java.util.UUID;
import lumbrical.problem.Place;
import lumbrical.tabular.UnreadableInputException;

/**
 * Keeps a key file for one run, from before it is read until it is saved: of two runs at once the later to save would lose the
 * pseudonyms of the other. A file beside it, with {@code .lock} at the end of its name, is locked and removed at the end; a run that is
 * killed leaves it, unlocked, and the next run takes it.
 */
public final class KeyFileLock implements AutoCloseable {
    private static final String ENDING = ".lock";

    /** The byte that is locked, behind all content: where locks are mandatory, the content can still be read. */
    private static final long LOCKED = Long.MAX_VALUE - 1;

    private final Path path;
    private final FileChannel channel;

    private KeyFileLock(Path path, FileChannel channel) {
        this.path = path;
        this.channel = channel;
    }

    static KeyFileLock beside(Path keyFile, Place place) {
        Path path = keyFile.resolveSibling(keyFile.getFileName() + ENDING);
        try {
            FileChannel channel = FileChannel.open(path, StandardOpenOption.CREATE, StandardOpenOption.WRITE);
            try {
                if (lock(channel).isPresent() && isStill(path, channel)) {
                    return new KeyFileLock(path, channel);
                }
            } catch (IOException | RuntimeException e) {
                channel.close();
                throw e;
            }
            channel.close();
        } catch (IOException e) {
            throw new UnreadableInputException(
                    place,
                    "it cannot be kept for this run, since no file can be written or locked beside it. Choose a folder in"
                            + " which you may write.");
        }
        throw new UnreadableInputException(
                place, "another run is using this key file. Wait until it has ended, and run the command again.");
    }

    private static Optional<FileLock> lock(FileChannel channel) throws IOException {
        try {
            return Optional.ofNullable(channel.tryLock(LOCKED, 1, false));
        } catch (OverlappingFileLockException e) {
            return Optional.empty(); // held by another thread of this process
        }
    }

    /** Whether the file that is locked still has its name: the run that had it before may just have removed it. */
    private static boolean isStill(Path path, FileChannel channel) throws IOException {
        String run = UUID.randomUUID().toString();
        channel.truncate(0);
        channel.write(ByteBuffer.wrap(run.getBytes(StandardCharsets.UTF_8)), 0);
        try {
            return Files.readString(path).equals(run);
        } catch (NoSuchFileException e) {
            return false;
        }
    }

    /** Lets other runs have the key file. */
    @Override
    public void close() {
        try (channel) {
            Files.deleteIfExists(path); // before the lock ends, so that no other run has it yet
        } catch (IOException e) {
            // where a file that is open cannot be removed it stays, unlocked, and the next run takes it
        }
    }
}
