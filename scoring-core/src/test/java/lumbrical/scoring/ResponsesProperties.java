package lumbrical.scoring;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.List;
import lumbrical.instrument.Instrument;
import net.jqwik.api.Arbitraries;
import net.jqwik.api.Arbitrary;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.Provide;
import net.jqwik.api.Tuple;

/** However responses are held, they are what was given. */
class ResponsesProperties {
    private static final int ITEMS = 4;
    private static final Instrument FORM = ExampleInstrument.called("example10")
            .items(ITEMS, ExampleInstrument.codes(0, 4))
            .build();

    @Provide
    Arbitrary<List<Response>> given() {
        return Arbitraries.<Response>frequencyOf(
                        Tuple.of(2, Arbitraries.just(Response.NOT_ANSWERED)),
                        Tuple.of(1, Arbitraries.just(Response.NO_NUMBER)),
                        Tuple.of(6, Arbitraries.integers().between(-7, 100).map(i -> Response.of(i))),
                        Tuple.of(1, Arbitraries.integers().between(-130, 130).map(i -> Response.of(i))),
                        Tuple.of(
                                1,
                                Arbitraries.of(0.5, -127.0, -128.0, 127.0, 128.0, 1e9, 45.3)
                                        .map(Response::of)))
                .list()
                .ofSize(ITEMS);
    }

    private static Responses of(List<Response> given) {
        Responses.Builder builder = Responses.builder(FORM);
        for (int i = 0; i < ITEMS; i++) {
            builder.put(i, given.get(i));
        }
        return builder.build();
    }

    private static double asScored(Response response) {
        if (response instanceof Response.Answered answered) {
            return answered.value();
        }
        return response.equals(Response.NO_NUMBER) ? Responses.NO_NUMBER : Responses.NOT_ANSWERED;
    }

    @Property
    void eachColumnHoldsWhatWasGiven(@ForAll("given") List<Response> given) {
        Responses responses = of(given);
        for (int i = 0; i < ITEMS; i++) {
            assertEquals(given.get(i), responses.at(i));
            assertEquals(!given.get(i).equals(Response.NOT_ANSWERED), responses.entered(i));
            assertEquals(
                    given.get(i) instanceof Response.Answered,
                    responses.value(i).isPresent());
        }
        assertEquals(given.stream().allMatch(Response.NOT_ANSWERED::equals), responses.blank());
        assertArrayEquals(
                given.stream().mapToDouble(ResponsesProperties::asScored).toArray(), responses.array());
    }

    @Property
    void aResponseEqualsAnotherOfItsKindAndNumber(@ForAll("given") List<Response> given) {
        for (Response a : given) {
            for (Response b : given) {
                boolean same = Double.compare(asScored(a), asScored(b)) == 0;
                assertEquals(same, a.equals(b), a + " and " + b);
                assertEquals(true, !same || a.hashCode() == b.hashCode());
            }
        }
    }

    @Property
    void theyAreEqualWhereTheSameWasGiven(@ForAll("given") List<Response> a, @ForAll("given") List<Response> b) {
        assertEquals(of(a), of(List.copyOf(a)));
        assertEquals(of(a).hashCode(), of(a).hashCode());
        assertEquals(a.equals(b), of(a).equals(of(b)));
    }
}
