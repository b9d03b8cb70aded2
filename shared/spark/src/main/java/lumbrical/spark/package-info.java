/** Scores inside Apache Spark, by the library and by nothing else. Start at {@link lumbrical.spark.SparkScores}. */
@NullMarked
package lumbrical.spark;

import org.jspecify.annotations.NullMarked;
