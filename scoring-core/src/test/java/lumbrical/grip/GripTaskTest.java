package lumbrical.grip;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertNotEquals;

import java.util.List;
import org.junit.jupiter.api.Test;

class GripTaskTest {
    @Test
    void columnTopicAndDifficultyTellTasksApart() {
        GripTask task = new GripTask("griptasks_key", "turn a key", 25);
        assertEquals(task, new GripTask("griptasks_key", "turn a key", 25));
        assertEquals(task.hashCode(), new GripTask("griptasks_key", "turn a key", 25).hashCode());
        for (Object other : List.of(
                new GripTask("griptasks_hook", "turn a key", 25),
                new GripTask("griptasks_key", "carry a bag", 25),
                new GripTask("griptasks_key", "turn a key", 50),
                "griptasks_key")) {
            assertNotEquals(task, other);
        }
    }
}
