/** The command line: parses options, calls the library, prints. */
module lumbrical.cli {
    requires static org.jspecify;
    requires lumbrical.shared;
    requires info.picocli;
}
