package lumbrical.catalogue;

import java.io.File;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.HashSet;
import java.util.List;
import java.util.Set;

/**
 * A step of the build, and used by nobody else: makes the index of the shipped definitions, and that of their earlier versions. A jar
 * cannot list its own folders, and a list of the instruments should not wait until every definition has been read.
 */
public final class IndexWriter {
    private Path definitions = Path.of("");
    private Path index = Path.of("");
    private Path earlierIndex = Path.of("");

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

    /** The file to write for the earlier versions. */
    public void setEarlierIndex(File file) {
        earlierIndex = file.toPath();
    }

    /**
     * Reads the definitions and writes the indexes.
     *
     * @throws DefinitionFaultsException if a definition has a fault, an id or a version that its file name does not tell, or if an id and
     *     version stand in two files
     * @throws IOException if a file cannot be read or written
     */
    public void execute() throws IOException {
        Set<String> seen = new HashSet<>();
        StringBuilder lines = new StringBuilder();
        for (Path file : Catalogue.files(definitions)) {
            lines.append(line(file, "", seen));
        }
        StringBuilder earlierLines = new StringBuilder();
        Path earlier = definitions.resolve(Catalogue.EARLIER);
        if (Files.isDirectory(earlier)) {
            for (Path file : Catalogue.files(earlier)) {
                earlierLines.append(line(file, Catalogue.EARLIER + "/", seen));
            }
        }
        Files.writeString(index, lines);
        Files.writeString(earlierIndex, earlierLines);
    }

    private static String line(Path file, String folder, Set<String> seen) throws IOException {
        String name = folder + file.getFileName();
        Summary summary = Summary.of(DefinitionReader.read(name, Files.readAllBytes(file)));
        String wanted =
                folder.isEmpty() ? summary.id() + ".json" : Catalogue.earlierFile(summary.id(), summary.version());
        if (!name.equals(wanted)) {
            throw new DefinitionFaultsException(
                    name,
                    List.of("$.id: " + summary.id() + "@" + summary.version() + ". Name the file " + wanted + "."));
        }
        if (!seen.add(summary.id() + "@" + summary.version())) {
            throw new DefinitionFaultsException(
                    name,
                    List.of("$.version: " + summary.id() + "@" + summary.version()
                            + " stands in two files. Raise the version of the newer."));
        }
        return summary.line() + '\n';
    }
}
