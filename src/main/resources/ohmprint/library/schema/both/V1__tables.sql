-- Version 1 of the library: one schema for SQLite and PostgreSQL. Times are text, UTC, with milliseconds
-- (2026-01-31T12:00:00.000Z), so that their order is that of the text. Identifiers are hexadecimal digits of SHA-256.

CREATE TABLE library_about (
    schema_version INTEGER NOT NULL,
    created_at TEXT NOT NULL
);

CREATE TABLE microphone (
    id TEXT NOT NULL PRIMARY KEY,
    label TEXT NOT NULL,
    maker TEXT,
    model TEXT,
    serial TEXT,
    transducer TEXT,
    rated_impedance_ohm DOUBLE PRECISION,
    rated_minimum_load_ohm DOUBLE PRECISION,
    notes TEXT
);

-- The columns repeat what the document says, for searching; the document is what counts.
CREATE TABLE measurement (
    id TEXT NOT NULL PRIMARY KEY,
    sha256 TEXT NOT NULL UNIQUE,
    microphone TEXT NOT NULL REFERENCES microphone (id),
    label TEXT NOT NULL,
    measured_at TEXT NOT NULL,
    added_at TEXT NOT NULL,
    operator TEXT NOT NULL,
    note TEXT,
    route TEXT NOT NULL,
    verdict TEXT NOT NULL,
    findings TEXT NOT NULL,
    loads TEXT NOT NULL,
    input TEXT NOT NULL,
    program_version TEXT NOT NULL,
    bands_per_octave INTEGER NOT NULL,
    lowest_hz DOUBLE PRECISION NOT NULL,
    highest_hz DOUBLE PRECISION NOT NULL,
    parallel_with_input INTEGER NOT NULL,
    ohm_at_1khz DOUBLE PRECISION,
    search_text TEXT NOT NULL
);

CREATE INDEX measurement_by_time ON measurement (measured_at DESC, id);
CREATE INDEX measurement_by_microphone ON measurement (microphone);

-- curve.json as it was handed in, compressed as RFC 1952 (gzip) says.
CREATE TABLE curve_document (
    measurement TEXT NOT NULL PRIMARY KEY REFERENCES measurement (id) ON DELETE CASCADE,
    gzip BYTEA NOT NULL
);

-- ln|Z| and its standard uncertainty on the third octaves from 20 Hz to 20 kHz, for searching by likeness.
CREATE TABLE curve_shape (
    measurement TEXT NOT NULL PRIMARY KEY REFERENCES measurement (id) ON DELETE CASCADE,
    points BYTEA NOT NULL
);

CREATE TABLE take (
    measurement TEXT NOT NULL REFERENCES measurement (id) ON DELETE CASCADE,
    place INTEGER NOT NULL,
    file TEXT NOT NULL,
    sha256 TEXT NOT NULL,
    load_ohm DOUBLE PRECISION,
    PRIMARY KEY (measurement, place)
);

CREATE INDEX take_by_sha256 ON take (sha256);

CREATE TABLE supersession (
    older TEXT NOT NULL PRIMARY KEY REFERENCES measurement (id) ON DELETE CASCADE,
    newer TEXT NOT NULL REFERENCES measurement (id) ON DELETE CASCADE,
    reason TEXT NOT NULL,
    made_by TEXT NOT NULL,
    made_at TEXT NOT NULL,
    CHECK (older <> newer)
);

CREATE INDEX supersession_by_newer ON supersession (newer);

CREATE TABLE repair (
    earlier TEXT NOT NULL REFERENCES measurement (id) ON DELETE CASCADE,
    later TEXT NOT NULL REFERENCES measurement (id) ON DELETE CASCADE,
    note TEXT NOT NULL,
    made_by TEXT NOT NULL,
    made_at TEXT NOT NULL,
    PRIMARY KEY (earlier, later),
    CHECK (earlier <> later)
);

CREATE INDEX repair_by_later ON repair (later);

CREATE TABLE specification (
    name TEXT NOT NULL,
    revision INTEGER NOT NULL,
    sha256 TEXT NOT NULL,
    yaml TEXT NOT NULL,
    made_by TEXT NOT NULL,
    made_at TEXT NOT NULL,
    PRIMARY KEY (name, revision)
);

CREATE TABLE removal (
    id TEXT NOT NULL,
    sha256 TEXT NOT NULL,
    label TEXT NOT NULL,
    reason TEXT NOT NULL,
    made_by TEXT NOT NULL,
    made_at TEXT NOT NULL,
    PRIMARY KEY (id, made_at)
);

INSERT INTO library_about (schema_version, created_at) VALUES (1, '${now}');
