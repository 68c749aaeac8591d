package ohmprint.report;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.concurrent.atomic.AtomicReference;
import org.junit.jupiter.api.Test;

class ChartsTest {
    @Test
    void warmingUpEndsByItselfAndKeepsNoProgramAlive() throws Exception {
        AtomicReference<Throwable> failure = new AtomicReference<>();
        Thread thread = Charts.warmUp();
        thread.setUncaughtExceptionHandler((t, e) -> failure.set(e));

        assertThat(thread.isDaemon()).isTrue();
        thread.join(20_000);
        assertThat(thread.isAlive()).isFalse();
        assertThat(failure.get()).isNull();
    }
}
