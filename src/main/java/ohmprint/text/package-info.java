/**
 * Numbers and words as people and files read them, whatever the locale: the one place that decides on digits, units and
 * signs.
 */
@org.jspecify.annotations.NullMarked
package ohmprint.text;
