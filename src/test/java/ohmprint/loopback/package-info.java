/** A bench that exists only as sound: a real sound server, and a simulated room, microphone and preamplifier behind it. */
@org.jspecify.annotations.NullMarked
package ohmprint.loopback;
