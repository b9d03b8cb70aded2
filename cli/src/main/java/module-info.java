/** The command line: parses options, calls the library, prints. */
module lumbrical.cli {
    requires static org.jspecify;
    requires lumbrical.registry;
    requires lumbrical.report;
    requires lumbrical.verification;
    requires lumbrical.workbook;
    requires info.picocli;
}
