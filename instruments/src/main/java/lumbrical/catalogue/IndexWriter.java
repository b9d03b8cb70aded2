package lumbrical.catalogue;

import java.io.File;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;

/**
 * A step of the build, and used by nobody else: makes the index of the shipped definitions. A jar cannot list its own folders, and a
 * list of the instruments should not wait until every definition has been read.
 */
public final class IndexWriter {
    private Path definitions = Path.of("");
    private Path index = Path.of("");

    /** A step that has not been told its files. */
    public IndexWriter() {}

    /** The folder of the definitions. */
    public void setDefinitions(File folder) {
        definitions = folder.toPath();
    }

    /** The file to write. */
    public void setIndex(File file) {
        index = file.toPath();
    }

    /**
     * Reads the definitions and writes the index.
     *
     * @throws DefinitionFaultsException if a definition has a fault, or an id that its file name does not tell
     * @throws IOException if a file cannot be read or written
     */
    public void execute() throws IOException {
        StringBuilder lines = new StringBuilder();
        for (Path file : Catalogue.files(definitions)) {
            String name = String.valueOf(file.getFileName());
            Summary summary = Summary.of(DefinitionReader.read(name, Files.readAllBytes(file)));
            if (!name.equals(summary.id() + ".json")) {
                throw new DefinitionFaultsException(
                        name, List.of("$.id: '" + summary.id() + "'. Name the file after it."));
            }
            lines.append(summary.line()).append('\n');
        }
        Files.writeString(index, lines);
    }
}
