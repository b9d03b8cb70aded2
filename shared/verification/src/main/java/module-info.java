/** The test vectors of an installation, run against its definitions. */
module lumbrical.verification {
    requires static org.jspecify;
    requires transitive lumbrical.instruments;
    requires org.apache.commons.csv;
    requires gg.jte.runtime;

    exports lumbrical.verification;
}
