-- Schema 1. Moments are milliseconds since 1970 in UTC, angles are radians, a
-- sum is the CRC-32C of a row's other columns. The heading of a visit is held
-- as columns; its readings and findings are in the job file that job names.

CREATE TABLE sites (
  put        INTEGER PRIMARY KEY, -- rises with every write of a site
  found_by   TEXT NOT NULL,       -- its words, made by archive/words
  id         TEXT NOT NULL UNIQUE,
  revision   INTEGER NOT NULL,
  created_at INTEGER NOT NULL,
  created_by TEXT NOT NULL,
  changed_at INTEGER NOT NULL,
  changed_by TEXT NOT NULL,
  deleted_at INTEGER,
  deleted_by TEXT,
  name       TEXT NOT NULL,
  address    TEXT NOT NULL,
  county     TEXT NOT NULL,
  owner      TEXT NOT NULL,
  parcel     TEXT NOT NULL,
  permit     TEXT NOT NULL,
  authority  TEXT NOT NULL,
  date       TEXT NOT NULL,
  measurer   TEXT NOT NULL,
  latitude   REAL,
  longitude  REAL,
  fill       TEXT NOT NULL,
  mistakes   INTEGER NOT NULL,
  acts       INTEGER NOT NULL,
  next_look  TEXT NOT NULL,
  next_what  TEXT NOT NULL,
  words      TEXT NOT NULL,
  sum        INTEGER NOT NULL
);
CREATE INDEX sites_due ON sites (next_look, id) WHERE deleted_at IS NULL AND next_look <> '';
CREATE INDEX sites_deleted ON sites (put) WHERE deleted_at IS NOT NULL;

CREATE TABLE visits (
  id         TEXT NOT NULL PRIMARY KEY,
  site       TEXT NOT NULL REFERENCES sites (id),
  revision   INTEGER NOT NULL,
  created_at INTEGER NOT NULL,
  created_by TEXT NOT NULL,
  changed_at INTEGER NOT NULL,
  changed_by TEXT NOT NULL,
  deleted_at INTEGER,
  deleted_by TEXT,
  job        TEXT NOT NULL,
  format     TEXT NOT NULL,
  name       TEXT NOT NULL,
  address    TEXT NOT NULL,
  county     TEXT NOT NULL,
  owner      TEXT NOT NULL,
  parcel     TEXT NOT NULL,
  permit     TEXT NOT NULL,
  authority  TEXT NOT NULL,
  date       TEXT NOT NULL,
  measurer   TEXT NOT NULL,
  latitude   REAL,
  longitude  REAL,
  fill       TEXT NOT NULL,
  mistakes   INTEGER NOT NULL,
  acts       INTEGER NOT NULL,
  next_look  TEXT NOT NULL,
  next_what  TEXT NOT NULL,
  words      TEXT NOT NULL,
  photos     INTEGER NOT NULL, -- how many rows of photos belong to it
  sum        INTEGER NOT NULL
);
CREATE INDEX visits_site ON visits (site, date DESC, created_at DESC, id);

CREATE TABLE photos (
  visit     TEXT NOT NULL REFERENCES visits (id),
  place     INTEGER NOT NULL, -- in the order of the visit, from 0
  name      TEXT NOT NULL,
  content   TEXT NOT NULL,
  thumbnail TEXT NOT NULL,
  bytes     INTEGER NOT NULL,
  width     INTEGER NOT NULL,
  height    INTEGER NOT NULL,
  added_at  INTEGER NOT NULL,
  added_by  TEXT NOT NULL,
  sum       INTEGER NOT NULL,
  PRIMARY KEY (visit, place)
);

CREATE TABLE changes (
  number   INTEGER PRIMARY KEY,
  at       INTEGER NOT NULL,
  by       TEXT NOT NULL,
  deed     TEXT NOT NULL,
  site     TEXT NOT NULL,
  visit    TEXT NOT NULL,
  revision INTEGER NOT NULL,
  before   TEXT NOT NULL,
  after    TEXT NOT NULL,
  fields   TEXT NOT NULL, -- JSON: [{"Pointer", "Before", "After"}]
  words    TEXT NOT NULL,
  sum      INTEGER NOT NULL
);
CREATE INDEX changes_site ON changes (site, number);

CREATE TABLE accounts (
  id         TEXT NOT NULL PRIMARY KEY,
  login      TEXT NOT NULL UNIQUE,
  name       TEXT NOT NULL,
  role       TEXT NOT NULL,
  password   TEXT NOT NULL,
  disabled   INTEGER NOT NULL,
  created_at INTEGER NOT NULL,
  created_by TEXT NOT NULL,
  changed_at INTEGER NOT NULL,
  changed_by TEXT NOT NULL,
  sum        INTEGER NOT NULL
);

CREATE TABLE sessions (
  token   TEXT NOT NULL PRIMARY KEY,
  account TEXT NOT NULL,
  created INTEGER NOT NULL,
  seen    INTEGER NOT NULL,
  expires INTEGER NOT NULL,
  agent   TEXT NOT NULL,
  sum     INTEGER NOT NULL
);
CREATE INDEX sessions_account ON sessions (account, created DESC, token);
CREATE INDEX sessions_expires ON sessions (expires);

CREATE TABLE shares (
  id         TEXT NOT NULL PRIMARY KEY,
  token      TEXT NOT NULL,
  site       TEXT NOT NULL,
  label      TEXT NOT NULL,
  created_at INTEGER NOT NULL,
  created_by TEXT NOT NULL,
  expires    INTEGER NOT NULL,
  revoked_at INTEGER,
  revoked_by TEXT,
  sum        INTEGER NOT NULL
);
CREATE INDEX shares_token ON shares (token);
CREATE INDEX shares_site ON shares (site, created_at DESC, id);

CREATE TABLE events (
  number INTEGER PRIMARY KEY,
  at     INTEGER NOT NULL,
  by     TEXT NOT NULL,
  what   TEXT NOT NULL,
  about  TEXT NOT NULL,
  sum    INTEGER NOT NULL
);

CREATE TABLE answers (
  key    TEXT NOT NULL PRIMARY KEY,
  at     INTEGER NOT NULL,
  answer BLOB NOT NULL,
  sum    INTEGER NOT NULL
);
CREATE INDEX answers_at ON answers (at);

-- The found_by of a site by its put; the tokenizer only parts it at the spaces. A
-- deleted site has the word U+E000 besides. A prefix that has an index of its own
-- is found without merging all words that start with it.
CREATE VIRTUAL TABLE search USING fts5(
  words, tokenize = 'ascii', content = '', contentless_delete = 1, detail = 'none', prefix = '1 2 3 4 5 6 7 8 9 10 11 12'
);

-- Where a site with a position lies; the box is rounded outward to 32 bits, the
-- position beside it is exact.
CREATE VIRTUAL TABLE places USING rtree(
  put, west, east, south, north, +latitude, +longitude, +id, +deleted
);
