package lumbrical.command;

import java.util.List;
import java.util.stream.Collectors;
import lumbrical.problem.Problem;
import lumbrical.problem.Remedy;

/** What would mend a problem, as the command line is told it. */
final class RemedyWords {
    private RemedyWords() {}

    /** The problem with its remedies in its advice. */
    static Problem worded(Problem problem) {
        return problem.remedies().isEmpty()
                ? problem
                : new Problem(
                        problem.place(),
                        problem.value(),
                        problem.code(),
                        problem.advice() + sentences(problem.remedies()));
    }

    /** A sentence for each, with a blank before it. */
    static String sentences(List<Remedy> remedies) {
        List<String> styles = remedies.stream()
                .filter(r -> r.kind() == Remedy.Kind.DATE_STYLE)
                .map(Remedy::detail)
                .toList();
        return (styles.size() > 1 ? inDoubt(styles) : "")
                + remedies.stream()
                        .filter(r -> styles.size() < 2 || r.kind() != Remedy.Kind.DATE_STYLE)
                        .map(r -> " " + sentence(r))
                        .collect(Collectors.joining());
    }

    /** Styles that all fit, with other days: only who made the file knows which is meant. */
    private static String inDoubt(List<String> styles) {
        return " Which style is meant cannot be told from the file: "
                + styles.stream().map(style -> "--date-format " + style).collect(Collectors.joining(" or "))
                + ". Ask who made it.";
    }

    private static String sentence(Remedy remedy) {
        String detail = remedy.detail();
        return switch (remedy.kind()) {
            case MAP_HEADINGS ->
                "Or map your own headings with --columns MAP.csv; 'check --suggest-columns MAP.csv' begins such a file.";
            case MAP_ANSWERS -> "If it is an answer in words, give its code with --codes CODES.csv (column,text,code).";
            case MAP_SIDES ->
                "If it is your own word for a side, give --codes CODES.csv (column,text,code) with the row " + detail
                        + ",right or " + detail + ",left; under column, side stands for every column of sides.";
            case BLANK_TEXT -> "If it means not answered, add --not-answered '" + detail + "'.";
            case DATE_STYLE -> "--date-format " + detail + " reads it.";
            case DECIMAL_COMMA -> "--decimal-comma reads it.";
            case SHEET -> "--sheet NAME chooses another sheet.";
            case ENCODING -> "Or name its encoding, such as --encoding " + detail + ".";
            case OVERWRITE -> "--overwrite replaces it.";
            case INSTRUMENTS ->
                detail.isEmpty() ? "'instruments' lists them." : "'instruments " + detail + "' lists them.";
            case PUBLISHED_ONLY -> "'instruments ID' shows which; --published-only leaves them out.";
            case CARRY -> "--carry names such columns.";
            case SCHEDULE -> "If not, give yours with --schedule.";
            case MAP_CONDITIONS -> "--conditions MAP.csv (text,condition) maps your own names.";
            case WITHOUT_DECISIONS -> "Run the command without --decisions to have it written.";
        };
    }
}
