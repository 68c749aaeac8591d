/** The command {@code plan}: which loads to record for a microphone of which little is known. */
@org.jspecify.annotations.NullMarked
package ohmprint.app.plan;
