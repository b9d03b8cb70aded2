package lumbrical.benchmarks;

/** (e) The least that a Java program can be. */
final class OneLine {
    private OneLine() {}

    public static void main(String[] args) {
        System.out.println("one line");
    }
}
