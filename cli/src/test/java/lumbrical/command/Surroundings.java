package lumbrical.command;

import com.tngtech.archunit.core.domain.AccessTarget;
import com.tngtech.archunit.core.domain.JavaAccess;
import com.tngtech.archunit.core.domain.JavaClass;
import com.tngtech.archunit.core.domain.JavaCodeUnit;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.Set;

/**
 * Every way of the Java library by which a result could come to depend on the day, the machine or chance: clock, default
 * locale, default charset, default time zone, randomness without a seed, environment.
 */
final class Surroundings {
    private static final String LOCALE = "java.util.Locale";
    private static final String CHARSET = "java.nio.charset.Charset";

    private Surroundings() {}

    /**
     * A way that is closed.
     *
     * @param owner class, with a trailing {@code *} all classes whose names start so
     * @param names methods; {@code *} = all, {@code <init>} = constructors
     * @param unless the call is harmless with a parameter of one of these types
     * @param exactly if not empty, only calls with just these parameters are meant; {@code none} = without parameters
     */
    record Way(String what, String owner, Set<String> names, Set<String> unless, Optional<List<String>> exactly) {
        boolean taken(String byOwner, String name, List<String> parameters) {
            boolean sameOwner = owner.endsWith("*")
                    ? byOwner.startsWith(owner.substring(0, owner.length() - 1))
                    : byOwner.equals(owner);
            return sameOwner
                    && (names.contains("*") || names.contains(name))
                    && parameters.stream().noneMatch(unless::contains)
                    && exactly.map(parameters::equals).orElse(true);
        }

        @Override
        public String toString() {
            return what + ": " + owner + " " + names
                    + exactly.map(e -> " with " + e).orElse("");
        }
    }

    private static Way always(String what, String owner, String... names) {
        return new Way(what, owner, Set.of(names), Set.of(), Optional.empty());
    }

    private static Way without(String what, String type, String owner, String... names) {
        return new Way(what, owner, Set.of(names), Set.of(type), Optional.empty());
    }

    private static Way with(String what, String owner, String name, String... parameters) {
        return new Way(what, owner, Set.of(name), Set.of(), Optional.of(Arrays.asList(parameters)));
    }

    static final List<Way> CLOSED = List.of(
            always("clock", "java.time.*", "now"),
            always("clock", "java.time.Clock", "*"),
            always("clock", "java.lang.System", "currentTimeMillis", "nanoTime"),
            with("clock", "java.util.Date", "<init>"),
            always("clock", "java.util.Calendar", "getInstance"),
            always("clock", "java.util.GregorianCalendar", "<init>"),
            always("locale", "java.util.Locale", "getDefault", "setDefault"),
            with("locale", "java.lang.String", "toLowerCase"),
            with("locale", "java.lang.String", "toUpperCase"),
            always("locale", "java.lang.String", "formatted"),
            without("locale", LOCALE, "java.lang.String", "format"),
            without("locale", LOCALE, "java.io.PrintWriter", "format", "printf"),
            without("locale", LOCALE, "java.io.PrintStream", "format", "printf"),
            without("locale", LOCALE, "java.util.Formatter", "<init>"),
            without("locale", LOCALE, "java.util.ResourceBundle", "getBundle"),
            always("locale", "java.util.Scanner", "<init>"),
            without(
                    "locale",
                    LOCALE,
                    "java.text.NumberFormat",
                    "getInstance",
                    "getNumberInstance",
                    "getPercentInstance",
                    "getIntegerInstance",
                    "getCurrencyInstance",
                    "getCompactNumberInstance"),
            without("locale", "java.text.DecimalFormatSymbols", "java.text.DecimalFormat", "<init>"),
            without("locale", LOCALE, "java.text.DecimalFormatSymbols", "<init>", "getInstance"),
            without("locale", LOCALE, "java.text.Collator", "getInstance"),
            without("locale", LOCALE, "java.text.MessageFormat", "<init>", "format"),
            always("locale", "java.text.DateFormat", "*"),
            always("locale", "java.text.SimpleDateFormat", "*"),
            without("locale", LOCALE, "java.time.format.DateTimeFormatter", "ofPattern"),
            always(
                    "locale",
                    "java.time.format.DateTimeFormatter",
                    "ofLocalizedDate",
                    "ofLocalizedTime",
                    "ofLocalizedDateTime"),
            without("locale", LOCALE, "java.time.format.DateTimeFormatterBuilder", "toFormatter"),
            always("charset", CHARSET, "defaultCharset"),
            with("charset", "java.lang.String", "getBytes"),
            with("charset", "java.lang.String", "<init>", "[B"),
            with("charset", "java.lang.String", "<init>", "[B", "int", "int"),
            with("charset", "java.io.ByteArrayOutputStream", "toString"),
            without("charset", CHARSET, "java.io.FileReader", "<init>"),
            without("charset", CHARSET, "java.io.FileWriter", "<init>"),
            with("charset", "java.io.InputStreamReader", "<init>", "java.io.InputStream"),
            with("charset", "java.io.OutputStreamWriter", "<init>", "java.io.OutputStream"),
            with("charset", "java.io.PrintWriter", "<init>", "java.io.OutputStream"),
            with("charset", "java.io.PrintWriter", "<init>", "java.io.OutputStream", "boolean"),
            with("charset", "java.io.PrintWriter", "<init>", "java.io.File"),
            with("charset", "java.io.PrintWriter", "<init>", "java.lang.String"),
            without("charset", CHARSET, "java.io.PrintStream", "<init>"),
            always("time zone", "java.time.ZoneId", "systemDefault"),
            always("time zone", "java.util.TimeZone", "getDefault", "setDefault"),
            with("chance", "java.util.Random", "<init>"),
            always("chance", "java.lang.Math", "random"),
            always("chance", "java.lang.StrictMath", "random"),
            with("chance", "java.util.SplittableRandom", "<init>"),
            always("chance", "java.util.concurrent.ThreadLocalRandom", "*"),
            always("chance", "java.security.SecureRandom", "*"),
            always("chance", "java.util.UUID", "randomUUID"),
            always("chance", "java.util.random.*", "*"),
            with("chance", "java.util.Collections", "shuffle", "java.util.List"),
            always(
                    "environment",
                    "java.lang.System",
                    "getenv",
                    "getProperty",
                    "getProperties",
                    "setProperty",
                    "lineSeparator"),
            always("environment", "java.lang.Integer", "getInteger"),
            always("environment", "java.lang.Long", "getLong"),
            always("environment", "java.lang.Boolean", "getBoolean"),
            always("environment", "java.lang.ProcessBuilder", "*"),
            always("environment", "java.lang.Runtime", "exec"),
            always("environment", "java.net.InetAddress", "getLocalHost"));

    /** The closed way that this access takes, if any. */
    static Optional<Way> takenBy(JavaAccess<?> access) {
        if (!(access.getTarget() instanceof AccessTarget.CodeUnitAccessTarget target)) {
            return Optional.empty();
        }
        List<String> parameters =
                target.getRawParameterTypes().stream().map(JavaClass::getName).toList();
        return CLOSED.stream()
                .filter(way -> way.taken(target.getOwner().getName(), target.getName(), parameters))
                .findFirst();
    }

    /** Such as {@code lumbrical.command.Progress.say takes java.lang.System.nanoTime}. */
    static String inWords(JavaAccess<?> access) {
        JavaCodeUnit from = access.getOrigin();
        return from.getOwner().getName() + "." + from.getName() + " takes "
                + access.getTargetOwner().getName() + "." + access.getTarget().getName();
    }
}
