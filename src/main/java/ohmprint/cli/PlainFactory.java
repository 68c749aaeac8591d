package ohmprint.cli;

import picocli.CommandLine.IFactory;

/**
 * Makes what the parser needs by its constructor without parameters. The parser's own factory looks through the whole
 * program for another language's closures first.
 */
enum PlainFactory implements IFactory {
    INSTANCE;

    @Override
    public <K> K create(Class<K> type) throws ReflectiveOperationException {
        return type.getDeclaredConstructor().newInstance();
    }
}
