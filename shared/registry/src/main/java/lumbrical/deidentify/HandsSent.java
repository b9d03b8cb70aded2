package lumbrical.deidentify;

import java.util.Collections;
import java.util.EnumSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.function.Predicate;
import java.util.stream.Collectors;
import lumbrical.followup.Episode;
import lumbrical.instrument.Column;
import lumbrical.instrument.Side;
import lumbrical.scoring.Responses;

/**
 * About which hands the answers of an episode leave: about the treated one alone where another episode of the patient refuses, since an
 * answer about the other hand is that episode's, and about none where the side is left blank, since it would tell which was treated.
 */
final class HandsSent {
    private static final Set<Side> BOTH = Collections.unmodifiableSet(EnumSet.of(Side.RIGHT, Side.LEFT));

    /** By patient the sides of episodes that may not be shared. */
    private final Map<String, Set<Side>> refusedSides;

    private final Predicate<String> sideBlank;

    /** @param sideBlank whether the side of that patient is left blank */
    HandsSent(List<Episode> listed, Predicate<String> sideBlank) {
        this.refusedSides = listed.stream()
                .filter(e -> !e.share())
                .collect(Collectors.groupingBy(
                        Episode::patient, Collectors.mapping(Episode::treatedSide, Collectors.toSet())));
        this.sideBlank = sideBlank;
    }

    /** The hands of which nothing leaves. */
    Set<Side> heldBack(Episode episode) {
        if (sideBlank.test(episode.patient())) {
            return BOTH;
        }
        boolean otherHandRefused = refusedSides.getOrDefault(episode.patient(), Set.of()).stream()
                .anyMatch(side -> side != episode.treatedSide());
        return otherHandRefused
                ? BOTH.stream().filter(side -> side != episode.treatedSide()).collect(Collectors.toUnmodifiableSet())
                : Set.of();
    }

    /** What leaves: what was answered of the person and of the hands that are not held back; a form asks of both at once. */
    static Responses leaving(Responses all, Set<Side> heldBack) {
        if (heldBack.isEmpty()) {
            return all;
        }
        Responses.Builder kept = Responses.builder(all.instrument());
        for (Column column : all.instrument().columns()) {
            if (column.hand().filter(heldBack::contains).isEmpty()) {
                kept.put(column.index(), all.at(column.index()));
            }
        }
        return kept.build();
    }

    /** How many answers are held back. */
    static int count(Responses all, Set<Side> heldBack) {
        return (int) all.instrument().columns().stream()
                .filter(column -> column.hand().filter(heldBack::contains).isPresent() && all.entered(column.index()))
                .count();
    }
}
