/** The command line: parses options, calls the library, prints. */
module org.handoutcomes.cli {
    requires static org.jspecify;
    requires org.handoutcomes.shared;
    requires info.picocli;
}
