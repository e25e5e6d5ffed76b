-- A small database of schema 1, as released. Never changed.
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
CREATE VIRTUAL TABLE search USING fts5(
  words, tokenize = 'ascii', content = '', contentless_delete = 1, detail = 'none', prefix = '1 2 3 4 5 6 7 8 9 10 11 12'
);
CREATE VIRTUAL TABLE places USING rtree(
  put, west, east, south, north, +latitude, +longitude, +id, +deleted
);
INSERT INTO sites VALUES (1, '18 quarry hollow lane tamsin county a fernleaf 07 113 07113 t 1996 0412 t19960412 health district r dunmoor pump the tank fine roots', 'site', 2, 1780000000123, 'crew', 1780000000123, 'crew', NULL, NULL, '18 Quarry Hollow Lane', '18 Quarry Hollow Lane', 'Tamsin County', 'A. Fernleaf', '07-113', 'T-1996-0412', 'Tamsin Health District', '2026-05-12', 'R. Dunmoor', 0.77667151713747662, -1.6275195274847123, 'The hole may be filled.', 1, 2, '2027-05-12', 'pump the tank', 'fine roots', 1371873305);
INSERT INTO sites VALUES (2, '18 quarry hollow lane tamsin county a fernleaf 07 113 07113 t 1996 0412 t19960412 health district r dunmoor pump the tank fine roots ', 'gone', 2, 1780000000123, 'crew', 1780000000123, 'crew', 1780000000123, 'office', '18 Quarry Hollow Lane', '18 Quarry Hollow Lane', 'Tamsin County', 'A. Fernleaf', '07-113', 'T-1996-0412', 'Tamsin Health District', '2026-05-12', 'R. Dunmoor', 0.77667151713747662, -1.6275195274847123, 'The hole may be filled.', 1, 2, '2027-05-12', 'pump the tank', 'fine roots', 3263119219);
INSERT INTO visits VALUES ('visit', 'site', 2, 1780000000123, 'crew', 1780000000123, 'crew', NULL, NULL, '5e8c9902207afaeb7120430c585a445f21e92932081d64bc99f80e4925bcb002', 'yaml', '18 Quarry Hollow Lane', '18 Quarry Hollow Lane', 'Tamsin County', 'A. Fernleaf', '07-113', 'T-1996-0412', 'Tamsin Health District', '2026-05-12', 'R. Dunmoor', 0.77667151713747662, -1.6275195274847123, 'The hole may be filled.', 1, 2, '2027-05-12', 'pump the tank', 'fine roots', 1, 972249902);
INSERT INTO photos VALUES ('visit', 0, 'photos/box.jpg', '55c64d0fcd6f9d5f7c828093857e3fdfda68478bb4e9bd24d481ef391c7804e8', '81db8ebbbbc69c6c6ad4a6aa92b76e0c08af547da236b9e2c9dbe1d8285a8130', 5, 4, 3, 1780000000123, 'crew', 637183778);
INSERT INTO changes VALUES (1, 1780000000123, 'crew', 'altered', 'site', 'visit', 2, '6c92ebf25823a2f56d4ca8f0faf0f59a8f13090ccb9d6d861bbba86b2d01bd31', '5e8c9902207afaeb7120430c585a445f21e92932081d64bc99f80e4925bcb002', '[{"Pointer":"/owner","Before":"\"A. Fern\"","After":"\"A. Fernleaf\""}]', '1 entry changed', 1521604591);
INSERT INTO accounts VALUES ('crew', 'dunmoor', 'R. Dunmoor', 'crew', '$argon2id$', 0, 1780000000123, 'crew', 1780000000123, 'crew', 1545991610);
INSERT INTO sessions VALUES ('3c469e9d6c5875d37a43f353d4f88e61fcf812c66eee3457465a40b0da4153e0', 'crew', 1780000000123, 1780003600123, 1780003600123, 'a browser', 3645564907);
INSERT INTO shares VALUES ('share', 'b1b1bdb480c61d075300d9bff7d9cb69cf31695ea048e478facadf426e8d0fb0', 'site', 'county office', 1780000000123, 'crew', 1780003600123, NULL, NULL, 1611864060);
INSERT INTO events VALUES (1, 1780000000123, 'crew', 'signed in', 'dunmoor', 4083717444);
INSERT INTO answers VALUES ('key', 1780000000123, x'7b2253697465223a2273697465227d', 2940495408);
INSERT INTO places VALUES (1, -1.6275196075439453, -1.6275194883346558, 0.77667146921157837, 0.77667152881622314, 0.77667151713747662, -1.6275195274847123, 'site', 0);
INSERT INTO places VALUES (2, -1.6275196075439453, -1.6275194883346558, 0.77667146921157837, 0.77667152881622314, 0.77667151713747662, -1.6275195274847123, 'gone', 1);
INSERT INTO search (rowid, words) VALUES (1, '18 quarry hollow lane tamsin county a fernleaf 07 113 07113 t 1996 0412 t19960412 health district r dunmoor pump the tank fine roots');
INSERT INTO search (rowid, words) VALUES (2, '18 quarry hollow lane tamsin county a fernleaf 07 113 07113 t 1996 0412 t19960412 health district r dunmoor pump the tank fine roots ');
PRAGMA application_id = 1431523140;
PRAGMA user_version = 1;
