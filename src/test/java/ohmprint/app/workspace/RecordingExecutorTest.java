package ohmprint.app.workspace;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.IOException;
import java.util.concurrent.CountDownLatch;
import org.junit.jupiter.api.Test;

/** What drives a recording does not call done what was broken off. */
class RecordingExecutorTest {
    @Test
    void whoIsInterruptedWhileWaitingIsTold() {
        RecordingExecutor driver = new RecordingExecutor("recorder of bench-7");
        CountDownLatch never = new CountDownLatch(1);
        try {
            Thread.currentThread().interrupt();
            assertThatThrownBy(() -> driver.now(() -> {
                        try {
                            never.await();
                        } catch (InterruptedException e) {
                            throw new IOException(e);
                        }
                    }))
                    .isInstanceOf(IOException.class)
                    .hasMessageContaining("recorder of bench-7 was interrupted");
            assertThat(Thread.interrupted()).as("the thread knows still").isTrue();
        } finally {
            Thread.interrupted();
            never.countDown();
            driver.end();
        }
    }
}
