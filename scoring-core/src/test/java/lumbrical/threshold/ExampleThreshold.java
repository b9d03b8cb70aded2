package lumbrical.threshold;

import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import lumbrical.instrument.Metric;
import lumbrical.instrument.Provenance;
import lumbrical.instrument.ScaleId;
import lumbrical.instrument.Standing;
import lumbrical.instrument.Threshold;

/** Puts an invented threshold together in few words: of scale {@code total}, 0-100, published, of hands, offered. */
public final class ExampleThreshold {
    private final String id;
    private final Threshold.Kind kind;
    private OptionalDouble value = OptionalDouble.empty();
    private String scale = "total";
    private String study = "study";
    private Metric metric = Metric.ZERO_TO_HUNDRED;
    private Threshold.Group group = Threshold.Group.HAND_WRIST;
    private Standing standing = Standing.PUBLISHED;
    private List<String> boundTo = List.of();
    private boolean recommended;
    private boolean ofOneItem;
    private String method = "invented";
    private Optional<String> whyNotOffered = Optional.empty();

    private ExampleThreshold(String id, Threshold.Kind kind) {
        this.id = id;
        this.kind = kind;
    }

    public static ExampleThreshold called(String id, Threshold.Kind kind) {
        return new ExampleThreshold(id, kind);
    }

    public ExampleThreshold value(double number) {
        value = OptionalDouble.of(number);
        return this;
    }

    public ExampleThreshold scale(String scaleId) {
        scale = scaleId;
        return this;
    }

    public ExampleThreshold study(String word) {
        study = word;
        return this;
    }

    public ExampleThreshold metric(Metric of) {
        metric = of;
        return this;
    }

    public ExampleThreshold group(Threshold.Group of) {
        group = of;
        return this;
    }

    public ExampleThreshold standing(Standing of) {
        standing = of;
        return this;
    }

    public ExampleThreshold boundTo(String... conditions) {
        boundTo = List.of(conditions);
        return this;
    }

    public ExampleThreshold recommended() {
        recommended = true;
        return this;
    }

    public ExampleThreshold ofOneItem() {
        ofOneItem = true;
        return this;
    }

    public ExampleThreshold method(String words) {
        method = words;
        return this;
    }

    public ExampleThreshold notOffered(String why) {
        whyNotOffered = Optional.of(why);
        return this;
    }

    public Threshold build() {
        return Threshold.builder(id, new ScaleId(scale), kind, metric, new Provenance(standing, "paper"))
                .value(value)
                .population("invented", group)
                .conditions(boundTo)
                .method(method)
                .study(study)
                .recommended(recommended)
                .ofOneItem(ofOneItem)
                .selectable(whyNotOffered.isEmpty(), whyNotOffered)
                .build();
    }
}
