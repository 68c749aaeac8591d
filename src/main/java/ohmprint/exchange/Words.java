package ohmprint.exchange;

import java.util.Arrays;
import java.util.function.Function;
import java.util.stream.Collectors;
import ohmprint.curve.BandStatus;
import ohmprint.curve.CauseOrigin;
import ohmprint.curve.FindingCode;
import ohmprint.curve.Route;
import ohmprint.curve.Usability;

/** The fixed words of the files, back to what they stand for. */
final class Words {
    private Words() {}

    static BandStatus status(String word, String place) throws ExchangeException {
        return find(BandStatus.values(), BandStatus::word, word, place);
    }

    static Route route(String word, String place) throws ExchangeException {
        return find(Route.values(), Route::word, word, place);
    }

    static Usability verdict(String word, String place) throws ExchangeException {
        return find(Usability.values(), Usability::word, word, place);
    }

    static FindingCode code(String word, String place) throws ExchangeException {
        return find(FindingCode.values(), FindingCode::word, word, place);
    }

    static CauseOrigin origin(String word, String place) throws ExchangeException {
        return find(CauseOrigin.values(), CauseOrigin::word, word, place);
    }

    private static <T> T find(T[] all, Function<T, String> name, String word, String place) throws ExchangeException {
        for (T one : all) {
            if (name.apply(one).equals(word)) {
                return one;
            }
        }
        String choice = Arrays.stream(all).map(name).collect(Collectors.joining(", "));
        throw new ExchangeException(place + ": \"" + word + "\" is not known; use one of " + choice);
    }
}
