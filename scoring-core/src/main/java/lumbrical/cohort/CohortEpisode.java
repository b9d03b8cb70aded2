package lumbrical.cohort;

import lumbrical.condition.EpisodeCondition;
import lumbrical.followup.Episode;

/**
 * What groups are made of.
 *
 * @param episode the episode
 * @param condition what its condition is, by the vocabulary
 */
record CohortEpisode(Episode episode, EpisodeCondition condition) {}
