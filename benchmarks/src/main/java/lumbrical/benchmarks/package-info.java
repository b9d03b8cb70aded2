/**
 * Speed against rivals. Start at {@code benchmarks/run}; the scorer alone is measured by JMH. Nothing here is released.
 */
package lumbrical.benchmarks;
