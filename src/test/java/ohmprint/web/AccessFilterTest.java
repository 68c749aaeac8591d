package ohmprint.web;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.IOException;
import java.net.InetAddress;
import java.net.NetworkInterface;
import java.net.Socket;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/**
 * Who may ask the page. The attacks are those of the OWASP Cheat Sheets on cross-site request forgery and of the
 * descriptions of DNS rebinding (from memory): a foreign origin, a simple content type, a foreign Host.
 */
@Tag("slow")
class AccessFilterTest {
    @TempDir
    static Path dir;

    private static OpenPage page;
    private static PageClient admitted;

    @BeforeAll
    static void open() throws Exception {
        page = OpenPage.of(dir);
        admitted = page.client();
    }

    @AfterAll
    static void close() {
        page.close();
    }

    private static String head(String raw) {
        return raw.lines().findFirst().orElse("");
    }

    private static String body(String raw) {
        int end = raw.indexOf("\r\n\r\n");
        return end < 0 ? "" : raw.substring(end + 4);
    }

    private static void assertRefused(String raw) {
        assertThat(head(raw)).isEqualTo("HTTP/1.1 403 Forbidden");
        assertThat(body(raw)).isEmpty();
        assertThat(raw).doesNotContain("ohmprint", "Jetty", "Set-Cookie", "WWW-");
    }

    private static String host() {
        return "Host: 127.0.0.1:" + admitted.port();
    }

    private static String cookie() {
        return "Cookie: " + admitted.cookie();
    }

    private static String post(String... headers) throws IOException {
        List<String> lines = new ArrayList<>(List.of("POST /api/sessions HTTP/1.1"));
        lines.addAll(List.of(headers));
        lines.add("Content-Length: 2");
        try (var socket = new Socket("127.0.0.1", admitted.port())) {
            socket.setSoTimeout(20_000);
            String text = String.join("\r\n", lines) + "\r\nConnection: close\r\n\r\n{}";
            socket.getOutputStream().write(text.getBytes(StandardCharsets.ISO_8859_1));
            return new String(socket.getInputStream().readAllBytes(), StandardCharsets.ISO_8859_1);
        }
    }

    @ParameterizedTest
    @ValueSource(
            strings = {
                "/",
                "/session/demo",
                "/page/main.js",
                "/page/index.html",
                "/lib/uplot.js",
                "/lib/uplot.css",
                "/api/workspace",
                "/api/nothing",
                "/nothing",
                "/favicon.ico",
                "/open",
                "/open?token=",
                "/open?token=wrong",
                "/api/sessions/demo/events"
            })
    void withoutACookieEveryAddressIsRefusedWithNothingInIt(String path) throws IOException {
        assertRefused(admitted.raw("GET " + path + " HTTP/1.1", host(), "Accept: text/event-stream"));
    }

    @Test
    void aWrongCookieIsAsGoodAsNone() throws IOException {
        String name = admitted.cookie().split("=", 2)[0];
        String almost = admitted.cookie().substring(0, admitted.cookie().length() - 1);
        assertRefused(admitted.raw("GET / HTTP/1.1", host(), "Cookie: " + name + "=wrong"));
        assertRefused(admitted.raw("GET / HTTP/1.1", host(), "Cookie: " + almost));
        assertRefused(admitted.raw(
                "GET / HTTP/1.1", host(), "Cookie: other=" + admitted.cookie().split("=", 2)[1]));
    }

    @Test
    void theLinkAdmitsByACookieThatScriptsAndOtherSitesDoNotGet() throws IOException {
        String path = page.page().link().substring(admitted.base().length());
        String answer = admitted.raw("GET " + path + " HTTP/1.1", host());

        assertThat(head(answer)).isEqualTo("HTTP/1.1 303 See Other");
        assertThat(answer).contains("Location: /\r\n", "; HttpOnly", "; SameSite=Strict", "; Path=/");
        assertThat(admitted.cookie()).startsWith("ohmprint-" + admitted.port() + "=");
        assertThat(page.page().link()).doesNotContain(admitted.cookie().split("=", 2)[1]);
    }

    @Test
    void theLinkForAnotherProgramWorksOnce() throws IOException {
        String path = page.page().linkForOnce().substring(admitted.base().length());

        assertThat(head(admitted.raw("GET " + path + " HTTP/1.1", host()))).contains("303");
        assertRefused(admitted.raw("GET " + path + " HTTP/1.1", host()));
    }

    @Test
    void withTheCookieThePageComesWithItsPolicy() throws Exception {
        PageClient.Answer answer = admitted.get("/");

        assertThat(answer.status()).isEqualTo(200);
        assertThat(answer.header("content-security-policy"))
                .startsWith("default-src 'none'; script-src 'self'; style-src 'self'")
                .contains("frame-ancestors 'none'", "form-action 'none'", "base-uri 'none'")
                .doesNotContain("unsafe");
        assertThat(answer.header("x-content-type-options")).isEqualTo("nosniff");
        assertThat(answer.header("referrer-policy")).isEqualTo("no-referrer");
        assertThat(answer.header("cross-origin-resource-policy")).isEqualTo("same-origin");
        assertThat(answer.header("server")).isEmpty();
        assertThat(answer.text()).contains("<title>").doesNotContain("<script>", "style=");
        assertThat(admitted.get("/api/workspace").header("cache-control")).isEqualTo("no-store");
    }

    @ParameterizedTest
    @ValueSource(strings = {"rebound.example", "127.0.0.1", "localhost", "127.0.0.1:80", "[::1]:1", "0.0.0.0:1"})
    void aForeignNameThatPointsHereIsRefused(String name) throws IOException {
        assertRefused(admitted.raw("GET /api/workspace HTTP/1.1", "Host: " + name, cookie()));
    }

    @Test
    void bothNamesOfThisComputerAreItsOwn() throws IOException {
        assertThat(head(admitted.raw("GET /api/workspace HTTP/1.1", host(), cookie())))
                .contains("200");
        assertThat(head(admitted.raw("GET /api/workspace HTTP/1.1", "Host: localhost:" + admitted.port(), cookie())))
                .contains("200");
    }

    @Test
    void whatChangesSomethingMustComeFromThePageItself() throws IOException {
        String own = "Origin: " + admitted.base();
        String json = "Content-Type: application/json";

        assertRefused(post(host(), cookie(), json));
        assertRefused(post(host(), cookie(), json, "Origin: http://elsewhere.example"));
        assertRefused(post(host(), cookie(), json, "Origin: null"));
        assertRefused(post(host(), cookie(), json, "Origin: http://127.0.0.1:1"));
        assertRefused(post(host(), cookie(), json, "Origin: http://localhost:" + admitted.port()));
        assertRefused(post(host(), own, json));
        assertRefused(post(host(), cookie(), own));
        for (String simple : List.of("text/plain", "application/x-www-form-urlencoded", "multipart/form-data")) {
            assertRefused(post(host(), cookie(), own, "Content-Type: " + simple));
        }
        assertThat(head(post(host(), cookie(), own, json))).contains(" 200");
    }

    @Test
    void whatWasRefusedHasChangedNothing() throws Exception {
        int before = admitted.json("/api/workspace").path("sessions").size();
        Path victim = Files.createDirectories(dir.resolve("victim"));

        post(host(), cookie(), "Content-Type: text/plain", "Origin: http://elsewhere.example");
        admitted.raw("DELETE /api/sessions/victim/takes/a.wav HTTP/1.1", host(), cookie());

        assertThat(admitted.json("/api/workspace").path("sessions")).hasSize(before);
        assertThat(victim).isEmptyDirectory();
    }

    /** A reading request that a header would turn into a changing one once it has passed as reading. */
    @ParameterizedTest
    @ValueSource(strings = {"X-HTTP-Method-Override", "x-http-method-override", "X-HTTP-Method", "X-Method-Override"})
    void aRequestThatNamesAnotherMethodInAHeaderIsRefusedAndChangesNothing(String header) throws Exception {
        int before = admitted.json("/api/workspace").path("sessions").size();

        assertRefused(admitted.raw(
                "GET /api/demo HTTP/1.1", host(), cookie(), header + ": POST", "Sec-Fetch-Site: cross-site"));
        assertRefused(admitted.raw("HEAD /api/demo HTTP/1.1", host(), cookie(), header + ": POST"));

        assertThat(admitted.json("/api/workspace").path("sessions")).hasSize(before);
    }

    @ParameterizedTest
    @ValueSource(
            strings = {
                "GET /%2e%2e/%2e%2e/etc/passwd HTTP/1.1",
                "GET /api/sessions/..%2f..%2fetc/curve HTTP/1.1",
                "GET /api/sessions/%00 HTTP/1.1",
                "GET /\u00ff HTTP/1.1",
                "NONSENSE",
                "GET http://elsewhere.example/ HTTP/1.1",
                "TRACE / HTTP/1.1",
                "OPTIONS /api/workspace HTTP/1.1"
            })
    void whatIsNoRequestGetsAStatusAndNothingMore(String line) throws IOException {
        String answer = admitted.raw(line, host());

        assertThat(head(answer)).matches("HTTP/1.1 4\\d\\d .*");
        assertThat(body(answer)).isEmpty();
        assertThat(answer).doesNotContain("etty", "xception", "root:");
    }

    @Test
    void onlyTheLoopbackAddressIsListenedAt() throws IOException {
        for (NetworkInterface network : Collections.list(NetworkInterface.getNetworkInterfaces())) {
            for (InetAddress address : Collections.list(network.getInetAddresses())) {
                if (!address.isLoopbackAddress()) {
                    assertThatThrownBy(() -> new Socket(address, admitted.port()).close())
                            .as("%s", address)
                            .isInstanceOf(IOException.class);
                }
            }
        }
    }
}
