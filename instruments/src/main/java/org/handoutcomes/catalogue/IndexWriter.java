package org.handoutcomes.catalogue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.stream.Stream;

/**
 * Run by the build: makes the index of the shipped definitions. A jar cannot list its own folders, and a list of the instruments
 * should not wait until every definition has been read.
 */
final class IndexWriter {
    private IndexWriter() {}

    /**
     * {@code FOLDER INDEX}: reads the definitions of a folder and writes the index.
     *
     * @throws DefinitionFaults if a definition has a fault, or an id that its file name does not tell
     * @throws IOException if a file cannot be read or written
     */
    public static void main(String[] words) throws IOException {
        List<Path> files;
        try (Stream<Path> folder = Files.list(Path.of(words[0]))) {
            files = folder.filter(f -> f.toString().endsWith(".json")).sorted().toList();
        }
        StringBuilder index = new StringBuilder();
        for (Path file : files) {
            String name = String.valueOf(file.getFileName());
            Summary summary = Summary.of(DefinitionReader.read(name, Files.readAllBytes(file)));
            if (!name.equals(summary.id() + ".json")) {
                throw new DefinitionFaults(name, List.of("$.id: '" + summary.id() + "'. Name the file after it."));
            }
            index.append(summary.line()).append('\n');
        }
        Files.writeString(Path.of(words[1]), index);
    }
}
