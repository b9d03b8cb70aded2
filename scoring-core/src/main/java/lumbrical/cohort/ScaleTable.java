package lumbrical.cohort;

import java.util.ArrayList;
import java.util.BitSet;
import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import lumbrical.condition.EpisodeCondition;
import lumbrical.instrument.ChangeRule;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.Scale;
import lumbrical.instrument.Threshold;
import lumbrical.threshold.ThresholdChoice;

/** The courses of one scale, in the order of the episodes. */
final class ScaleTable {
    private final Instrument instrument;
    private final Scale scale;
    private final List<Course> courses = new ArrayList<>();
    private final BitSet rated = new BitSet();
    private final Map<EpisodeCondition, Optional<Threshold>> mcids = new LinkedHashMap<>();

    ScaleTable(Instrument instrument, Scale scale) {
        this.instrument = instrument;
        this.scale = scale;
    }

    Instrument instrument() {
        return instrument;
    }

    Scale scale() {
        return scale;
    }

    /** Whether two of its scores make a change. */
    boolean changes() {
        return instrument.facts().change().kind() != ChangeRule.Kind.NONE;
    }

    /** Adds a course; asked for each condition once, the MCID of its episodes is kept. */
    void add(Course course, EpisodeCondition condition, ThresholdChoice choice) {
        courses.add(course);
        for (int v = 0; v < course.points().size(); v++) {
            if (course.points().get(v).filter(p -> p.rating().isPresent()).isPresent()
                    && course.pairAt(v).isPresent()) {
                rated.set(v);
            }
        }
        mcids.computeIfAbsent(condition, c -> choice.mcid(instrument, scale, c));
    }

    /** Whether anybody has a pair and a rating at a visit. */
    boolean rated(int visit) {
        return rated.get(visit);
    }

    /** The MCID of an episode of that condition. */
    Optional<Threshold> mcid(EpisodeCondition condition) {
        return mcids.getOrDefault(condition, Optional.empty());
    }

    /** The MCID of each condition that an episode has. */
    Map<EpisodeCondition, Optional<Threshold>> mcids() {
        return Collections.unmodifiableMap(mcids);
    }

    /** The courses of the episodes that are members. */
    List<Course> of(boolean[] members) {
        return courses.stream().filter(c -> members[c.episode()]).toList();
    }
}
