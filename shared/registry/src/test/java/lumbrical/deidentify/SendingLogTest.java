package lumbrical.deidentify;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Map;
import java.util.Set;
import lumbrical.deidentify.SentRecords.Key;
import lumbrical.deidentify.SentRecords.State;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class SendingLogTest {
    private static SendingLog upload(SentRecords before, String... keyAndContent) {
        SendingLog log = new SendingLog(before);
        for (int i = 0; i < keyAndContent.length; i += 2) {
            log.add("scores", keyAndContent[i], "S", keyAndContent[i + 1]);
        }
        return log;
    }

    private static State state(SendingLog log, String key) {
        return log.after().records().get(new Key("scores", key)).state();
    }

    @Test
    void aRecordIsAmendedForGoodOnceItsContentDiffers() {
        SendingLog first = upload(SentRecords.NONE, "a", "1", "b", "1");
        assertEquals(State.FIRST, state(first, "a"));
        assertEquals(Map.of(), first.amended());
        SendingLog second = upload(first.after(), "a", "2", "b", "1");
        assertEquals(State.AMENDED, state(second, "a"));
        assertEquals(State.FIRST, state(second, "b"));
        assertEquals(Map.of("scores", 1), second.amended());
        SendingLog third = upload(second.after(), "a", "2", "b", "1");
        assertEquals(State.AMENDED, state(third, "a"));
        assertEquals(Map.of(), third.amended(), "nothing is new");
        assertEquals(second.after(), third.after());
    }

    @Test
    void whatIsGoneIsWithdrawnInEveryUploadUntilItIsSentAgain() {
        SendingLog first = upload(SentRecords.NONE, "a", "1", "b", "1");
        SendingLog second = upload(first.after(), "a", "1");
        assertEquals(
                Set.of(new Key("scores", "b")), second.withdrawn().records().keySet());
        assertEquals(Map.of("scores", 1), second.withdrawnNow());
        SendingLog third = upload(second.after(), "a", "1");
        assertEquals(second.withdrawn(), third.withdrawn());
        assertEquals(Map.of(), third.withdrawnNow(), "told once");
        SendingLog fourth = upload(third.after(), "a", "1", "b", "1");
        assertEquals(State.RETURNED, state(fourth, "b"));
        assertEquals(Map.of("scores", 1), fourth.amended());
        assertEquals(SentRecords.NONE, fourth.withdrawn());
        assertEquals(State.RETURNED, state(upload(fourth.after(), "a", "1", "b", "2"), "b"), "and stays so");
    }

    @Test
    void theKeyFileKeepsWhatWasSentByFormat(@TempDir Path folder) {
        String name = folder.resolve("keys.json").toString();
        KeyFile keys = KeyFile.open(name, folder.resolve("upload"));
        SentRecords sent = upload(
                        upload(SentRecords.NONE, "a", "1", "b/x-right", "1").after(), "a", "2")
                .after();
        keys.keepSent("csv", sent);
        keys.save();
        KeyFile again = KeyFile.open(name, folder.resolve("upload"));
        assertEquals(sent, again.sent("csv"));
        assertEquals(SentRecords.NONE, again.sent("fhir"));
        assertEquals(true, Files.exists(folder.resolve("keys.json")));
    }
}
