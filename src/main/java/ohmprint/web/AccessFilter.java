package ohmprint.web;

import java.nio.charset.StandardCharsets;
import java.security.MessageDigest;
import java.security.SecureRandom;
import java.util.Base64;
import java.util.List;
import java.util.Locale;
import java.util.Set;
import java.util.concurrent.atomic.AtomicBoolean;
import org.eclipse.jetty.http.HttpCookie;
import org.eclipse.jetty.http.HttpHeader;
import org.eclipse.jetty.http.HttpStatus;
import org.eclipse.jetty.server.Handler;
import org.eclipse.jetty.server.Request;
import org.eclipse.jetty.server.Response;
import org.eclipse.jetty.util.Callback;
import org.eclipse.jetty.util.Fields;
import org.jspecify.annotations.Nullable;

/**
 * Stands before everything else and lets through what comes from a browser that was admitted, by a name of this computer,
 * and from the page itself where something is changed. All else gets 403 and nothing more.
 *
 * <p>The name of the cookie holds the port, because browsers do not tell ports apart when they send cookies: two benches
 * would else shut each other's pages out.
 */
final class AccessFilter extends Handler.Wrapper {
    private static final int BYTES = 32;
    private static final Set<String> READING = Set.of("GET", "HEAD");

    /** Type of the bytes of a file. */
    static final String FILE = "application/octet-stream";

    private static final List<String> BODIES = List.of("application/json", FILE);

    /** Headers by which servers let a request name another method than its own, after it was let through as a reading one. */
    private static final List<String> OTHER_METHODS =
            List.of("X-HTTP-Method-Override", "X-HTTP-Method", "X-Method-Override");

    private static final String POLICY = "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data:"
            + " blob:; media-src 'self' blob:; connect-src 'self'; font-src 'self'; base-uri 'none'; form-action 'none';"
            + " frame-ancestors 'none'";

    private final String token = random();
    private final String tokenForOnce = random();
    private final String admission = random();
    private final AtomicBoolean used = new AtomicBoolean();
    private volatile int port;

    /** 256 bits as text, from the generator for secrets. */
    private static String random() {
        byte[] bytes = new byte[BYTES];
        new SecureRandom().nextBytes(bytes);
        return Base64.getUrlEncoder().withoutPadding().encodeToString(bytes);
    }

    /** Begins to let through what is sent to a port; before that nothing passes. */
    void watch(int listening) {
        port = listening;
    }

    /** The link that admits a browser. */
    String link() {
        return own() + "/open?token=" + token;
    }

    /** A link that does so once. */
    String linkForOnce() {
        return own() + "/open?token=" + tokenForOnce;
    }

    private String own() {
        return "http://127.0.0.1:" + port;
    }

    @Override
    public boolean handle(Request request, Response response, Callback callback) throws Exception {
        headers(response);
        if (!hostIsOwn(request) || OTHER_METHODS.stream().anyMatch(request.getHeaders()::contains)) {
            return refuse(response, callback);
        }
        String path = request.getHttpURI().getPath();
        if ("/open".equals(path) && isReading(request)) {
            return admits(token(request)) ? admit(response, callback) : refuse(response, callback);
        }
        if (!isAdmitted(request) || (!isReading(request) && !isFromThePage(request))) {
            return refuse(response, callback);
        }
        if (path.startsWith("/api/")) {
            response.getHeaders().put(HttpHeader.CACHE_CONTROL, "no-store");
        }
        return super.handle(request, response, callback);
    }

    /** Whether a request only asks. */
    static boolean isReading(Request request) {
        return READING.contains(request.getMethod());
    }

    /** The type of a request's body without parameters, or null when it states none. */
    static @Nullable String bodyType(Request request) {
        String type = request.getHeaders().get(HttpHeader.CONTENT_TYPE);
        return type == null ? null : type.split(";", 2)[0].strip().toLowerCase(Locale.ROOT);
    }

    private static void headers(Response response) {
        var headers = response.getHeaders();
        headers.put("Content-Security-Policy", POLICY);
        headers.put("X-Content-Type-Options", "nosniff");
        headers.put("Referrer-Policy", "no-referrer");
        headers.put("Cross-Origin-Opener-Policy", "same-origin");
        headers.put("Cross-Origin-Resource-Policy", "same-origin");
    }

    private static boolean refuse(Response response, Callback callback) {
        response.setStatus(HttpStatus.FORBIDDEN_403);
        response.getHeaders().put(HttpHeader.CACHE_CONTROL, "no-store");
        response.getHeaders().put(HttpHeader.CONTENT_LENGTH, 0L);
        response.write(true, null, callback);
        return true;
    }

    private boolean admit(Response response, Callback callback) {
        Response.addCookie(
                response,
                HttpCookie.build(cookie(), admission)
                        .path("/")
                        .httpOnly(true)
                        .sameSite(HttpCookie.SameSite.STRICT)
                        .build());
        response.setStatus(HttpStatus.SEE_OTHER_303);
        response.getHeaders().put(HttpHeader.LOCATION, "/");
        response.getHeaders().put(HttpHeader.CACHE_CONTROL, "no-store");
        response.getHeaders().put(HttpHeader.CONTENT_LENGTH, 0L);
        response.write(true, null, callback);
        return true;
    }

    private static @Nullable String token(Request request) {
        Fields query = Request.extractQueryParameters(request);
        return query.getValue("token");
    }

    private boolean admits(@Nullable String given) {
        if (given == null) {
            return false;
        }
        boolean usual = same(token, given);
        boolean once = same(tokenForOnce, given);
        return usual || (once && used.compareAndSet(false, true));
    }

    /** Whether two secrets are equal, in a time that does not tell how far they agree. */
    private static boolean same(String secret, String given) {
        return MessageDigest.isEqual(secret.getBytes(StandardCharsets.UTF_8), given.getBytes(StandardCharsets.UTF_8));
    }

    private String cookie() {
        return "ohmprint-" + port;
    }

    private boolean isAdmitted(Request request) {
        boolean admitted = false;
        for (HttpCookie cookie : Request.getCookies(request)) {
            admitted |= cookie.getName().equals(cookie()) && same(admission, cookie.getValue());
        }
        return admitted;
    }

    /** A foreign name that was made to point here (DNS rebinding) is none of these. */
    private boolean hostIsOwn(Request request) {
        List<String> hosts = request.getHeaders().getValuesList(HttpHeader.HOST);
        return port != 0 && hosts.size() == 1 && names().contains(hosts.get(0).toLowerCase(Locale.ROOT));
    }

    private List<String> names() {
        return List.of("127.0.0.1:" + port, "localhost:" + port);
    }

    /** The browser tells where a request comes from; forms and simple requests of other pages have other types. */
    private boolean isFromThePage(Request request) {
        String origin = request.getHeaders().get(HttpHeader.ORIGIN);
        String host = request.getHeaders().get(HttpHeader.HOST);
        if (origin == null || host == null || !origin.equals("http://" + host.toLowerCase(Locale.ROOT))) {
            return false;
        }
        String type = bodyType(request);
        return type == null ? request.getMethod().equals("DELETE") && request.getLength() <= 0 : BODIES.contains(type);
    }
}
