package lumbrical.command;

import java.util.List;
import java.util.Optional;
import picocli.CommandLine.Model.PositionalParamSpec;

/** What stands on the line without the name of an option. */
record Positional(PositionalParamSpec spec, CliOption.Use use) implements CliOption {
    /**
     * @param index where they stand, as the command-line library writes it
     * @param arity how many there may be, in the same way
     */
    static Positional of(String placeholder, String index, String arity, String description) {
        return new Positional(argument(placeholder, index, arity, description), CliOption.Use.NONE);
    }

    /** Names of files to read; index and arity as in {@link #of}. */
    static Positional read(String placeholder, String index, String arity, String description) {
        return new Positional(argument(placeholder, index, arity, description), CliOption.Use.READ);
    }

    private static PositionalParamSpec argument(String placeholder, String index, String arity, String description) {
        return PositionalParamSpec.builder()
                .paramLabel(placeholder)
                .index(index)
                .arity(arity)
                .required(!arity.startsWith("0"))
                .type(List.class)
                .auxiliaryTypes(String.class)
                .description(description)
                .build();
    }

    /** One or more files of responses. */
    static Positional responses() {
        return read(
                "RESPONSES",
                "0..*",
                "1..*",
                "CSV or XLSX files, or QuestionnaireResponses in FHIR R4 (JSON, NDJSON); FILE.xlsx#Sheet names a sheet.");
    }

    @Override
    public List<String> values() {
        return Optional.<List<String>>ofNullable(spec.getValue()).orElse(List.of());
    }

    /** The one there must be. */
    String value() {
        return values().get(0);
    }
}
