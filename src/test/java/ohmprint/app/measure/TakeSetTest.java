package ohmprint.app.measure;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;
import static org.assertj.core.api.Assertions.within;
import static org.assertj.core.api.Assertions.withinPercentage;

import java.util.List;
import java.util.stream.IntStream;
import ohmprint.circuit.InputImpedance;
import ohmprint.circuit.Load;
import ohmprint.estimation.BinObservations;
import ohmprint.session.Take;
import org.junit.jupiter.api.Test;

/** A take stays the same take, whichever others are left out. */
class TakeSetTest {
    private static final List<Take> SESSION =
            IntStream.range(0, 5).mapToObj(TakeSetTest::take).toList();

    /** The first take of the session is not held; the power of the take numbered k is 10^k. */
    private final TakeSet set = set(SESSION, SESSION.subList(1, 5));

    private static Take take(int k) {
        return new Take("take-" + k + ".wav", Load.ofOhms(100 * (k + 1), 0));
    }

    private static TakeSet set(List<Take> session, List<Take> held) {
        BinObservations bins = new BinObservations(held.size(), new double[] {1000}, 1);
        double[] amplitude =
                held.stream().mapToDouble(t -> power(t)).map(Math::sqrt).toArray();
        bins.setSnapshot(0, amplitude, new double[held.size()]);
        return TakeSet.of(session, held, InputImpedance.ofOhms(3000, 0), bins);
    }

    private static double power(Take take) {
        return Math.pow(10, take.load().ohm() / 100 - 1);
    }

    private static void isWhole(TakeSet takes) {
        for (Take take : takes.takes()) {
            int k = takes.index(take);
            assertThat(takes.bins().re(0, k, k))
                    .as("power of %s", take.file())
                    .isCloseTo(power(take), withinPercentage(1e-9));
            assertThat(takes.loads().loads().get(k)).isSameAs(take.load());
            assertThat(takes.loads().names().get(k)).isEqualTo(take.file());
            assertThat(takes.place(take)).isEqualTo(SESSION.indexOf(take));
        }
    }

    @Test
    void withoutOneTakeTheOthersKeepWhatTheyHold() {
        isWhole(set);
        TakeSet three = set.without(SESSION.get(2));
        assertThat(three.takes()).containsExactly(SESSION.get(1), SESSION.get(3), SESSION.get(4));
        isWhole(three);
        TakeSet two = three.without(SESSION.get(3));
        assertThat(two.takes()).containsExactly(SESSION.get(1), SESSION.get(4));
        isWhole(two);
        assertThat(set.size()).as("the set itself stays").isEqualTo(4);
    }

    @Test
    void whatIsLeftOutIsKnownAllTheSame() {
        TakeSet three = set.without(SESSION.get(2));
        assertThat(SESSION.stream().filter(three::holds)).containsExactlyElementsOf(three.takes());
        assertThat(three.place(SESSION.get(0))).isZero();
        assertThat(three.place(SESSION.get(2))).isEqualTo(2);
        assertThatIllegalArgumentException()
                .isThrownBy(() -> three.index(SESSION.get(2)))
                .withMessageContaining("take-2.wav");
        assertThatIllegalArgumentException()
                .isThrownBy(() -> three.place(take(1)))
                .withMessageContaining("no take of this session");
    }

    @Test
    void anyOrderOfSomeTakesIsTheOrderOfRecording() {
        TakeSet two = set.only(List.of(SESSION.get(4), SESSION.get(1)));
        assertThat(two.takes()).containsExactly(SESSION.get(1), SESSION.get(4));
        isWhole(two);
    }

    /** The same file with the same load may be entered twice. */
    @Test
    void twoEntriesThatSayTheSameAreTwoTakes() {
        Take first = take(1);
        Take second = take(1);
        TakeSet twice = set(List.of(first, second), List.of(first, second));
        assertThat(twice.index(second)).isOne();
        assertThat(twice.without(first).holds(second)).isTrue();
        assertThat(twice.without(first).holds(first)).isFalse();
    }

    @Test
    void aGainIsTakenOutByTake() {
        TakeSet levelled = set.without(SESSION.get(1)).dividedBy(take -> Math.sqrt(power(take)));
        for (int k = 0; k < levelled.size(); k++) {
            assertThat(levelled.bins().re(0, k, k)).isCloseTo(1, within(1e-9));
        }
    }

    @Test
    void observationsOfAnotherNumberOfTakesAreRefused() {
        assertThatIllegalArgumentException()
                .isThrownBy(() -> TakeSet.of(SESSION, SESSION, InputImpedance.ofOhms(3000, 0), set.bins()))
                .withMessageContaining("5 takes, but observations of 4");
    }
}
