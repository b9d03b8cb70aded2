package lumbrical.command;

import java.io.ByteArrayOutputStream;
import java.io.File;
import java.io.FileReader;
import java.io.FileWriter;
import java.io.IOException;
import java.io.InputStreamReader;
import java.io.OutputStreamWriter;
import java.io.PrintStream;
import java.io.PrintWriter;
import java.net.InetAddress;
import java.nio.charset.Charset;
import java.nio.charset.StandardCharsets;
import java.security.SecureRandom;
import java.text.Collator;
import java.text.DateFormat;
import java.text.DecimalFormat;
import java.text.DecimalFormatSymbols;
import java.text.MessageFormat;
import java.text.NumberFormat;
import java.text.SimpleDateFormat;
import java.time.Clock;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneId;
import java.time.format.DateTimeFormatter;
import java.time.format.DateTimeFormatterBuilder;
import java.time.format.FormatStyle;
import java.util.Calendar;
import java.util.Collections;
import java.util.Date;
import java.util.Formatter;
import java.util.GregorianCalendar;
import java.util.List;
import java.util.Locale;
import java.util.Random;
import java.util.ResourceBundle;
import java.util.Scanner;
import java.util.SplittableRandom;
import java.util.TimeZone;
import java.util.UUID;
import java.util.concurrent.ThreadLocalRandom;
import java.util.function.LongSupplier;
import java.util.random.RandomGenerator;

/** Takes every way that {@link Surroundings} closes, once; never run. Its bytecode shows that each would be found. */
@SuppressWarnings("unused")
final class ReadsItsSurroundings {
    private ReadsItsSurroundings() {}

    static List<Object> clock() {
        LongSupplier byReference = System::nanoTime;
        return List.of(
                Instant.now(),
                Clock.systemUTC(),
                byReference,
                new Date(),
                Calendar.getInstance(TimeZone.getDefault()),
                new GregorianCalendar(),
                ZoneId.systemDefault());
    }

    static List<Object> locale(String text, PrintWriter writer, PrintStream stream) {
        return List.of(
                Locale.getDefault(),
                text.toLowerCase(),
                text.toUpperCase(),
                text.formatted(1),
                String.format(text, 1),
                writer.printf(text, 1),
                stream.format(text, 1),
                new Formatter(),
                ResourceBundle.getBundle(text),
                new Scanner(text),
                NumberFormat.getInstance(),
                new DecimalFormat(text),
                DecimalFormatSymbols.getInstance(),
                Collator.getInstance(),
                MessageFormat.format(text, 1),
                DateFormat.getDateInstance(DateFormat.SHORT, Locale.ROOT),
                new SimpleDateFormat(text, Locale.ROOT),
                DateTimeFormatter.ofPattern(text),
                DateTimeFormatter.ofLocalizedDate(FormatStyle.SHORT),
                new DateTimeFormatterBuilder().toFormatter());
    }

    static List<Object> charset(byte[] bytes, String text, ByteArrayOutputStream out, File file) throws IOException {
        return List.of(
                Charset.defaultCharset(),
                text.getBytes(),
                new String(bytes),
                new String(bytes, 0, 1),
                out.toString(),
                new FileReader(file),
                new FileWriter(file),
                new InputStreamReader(System.in),
                new OutputStreamWriter(out),
                new PrintWriter(out),
                new PrintWriter(out, true),
                new PrintWriter(file),
                new PrintWriter(text),
                new PrintStream(out));
    }

    static List<Object> chance(List<String> list) {
        Collections.shuffle(list);
        return List.of(
                new Random(),
                Math.random(),
                StrictMath.random(),
                new SplittableRandom(),
                ThreadLocalRandom.current(),
                new SecureRandom(),
                UUID.randomUUID(),
                RandomGenerator.getDefault());
    }

    static List<Object> environment(String name) throws IOException {
        return List.of(
                System.getenv(name),
                Integer.getInteger(name),
                Long.getLong(name),
                Boolean.getBoolean(name),
                new ProcessBuilder(name),
                Runtime.getRuntime().exec(new String[] {name}),
                InetAddress.getLocalHost());
    }

    static List<Object> harmless(byte[] bytes, String text, PrintWriter writer) {
        return List.of(
                LocalDate.of(2024, 1, 31),
                new Date(0),
                text.toLowerCase(Locale.ROOT),
                String.format(Locale.ROOT, text, 1),
                writer.printf(Locale.ROOT, text, 1),
                new DecimalFormat(text, DecimalFormatSymbols.getInstance(Locale.ROOT)),
                DateTimeFormatter.ofPattern(text, Locale.ROOT),
                text.getBytes(StandardCharsets.UTF_8),
                new String(bytes, StandardCharsets.UTF_8),
                new InputStreamReader(System.in, StandardCharsets.UTF_8),
                new PrintWriter(writer),
                new Random(7),
                ZoneId.of("Z"));
    }
}
