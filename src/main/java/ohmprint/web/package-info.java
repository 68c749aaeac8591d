/**
 * The page: serves the files that a browser loads and answers what they ask, for this computer alone.
 *
 * <p>Nothing is computed here: addresses are mapped to use cases of {@code app}, what comes of them to JSON: to the objects of
 * {@code json} where the command line prints the same, else by {@code snake_case} names of the records. NaN and infinite numbers become
 * null, no resistor the word {@code open}, an unknown one {@code unknown}.
 *
 * <p>Who may ask ({@link ohmprint.web.AccessFilter}): the server listens at the loopback address. A browser is admitted by a link
 * with a random token, which gives it a cookie; without that every address answers 403 with nothing in it. The name that a
 * request calls this computer by must be the loopback address or {@code localhost}, so that no foreign name can be made to
 * point here; a request that changes something must come from the page itself. The page may load and call nothing but this
 * server (Content Security Policy).
 *
 * <p>Errors are {@code {"error": "sentence"}} with the status 400 for what cannot be, 404 for what is not there, 409 for
 * what cannot be now, 413 for what is too large, 422 for takes that do not support a curve, 500 for a fault of the program.
 */
@org.jspecify.annotations.NullMarked
package ohmprint.web;
