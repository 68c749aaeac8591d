/** Tests of reading and writing sound files, against files made by other programs and headers written byte by byte. */
@org.jspecify.annotations.NullMarked
package ohmprint.audiofile;
