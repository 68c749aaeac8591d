/** Tests of what a workshop does with its library. */
@org.jspecify.annotations.NullMarked
package ohmprint.app.library;
