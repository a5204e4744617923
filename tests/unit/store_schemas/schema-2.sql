BEGIN TRANSACTION;
CREATE TABLE alembic_version (
	version_num VARCHAR(32) NOT NULL, 
	CONSTRAINT alembic_version_pkc PRIMARY KEY (version_num)
);
INSERT INTO "alembic_version" VALUES('0002');
CREATE TABLE attachment (
	sha256 TEXT NOT NULL, 
	size INTEGER NOT NULL, 
	type TEXT NOT NULL, 
	received TEXT NOT NULL, 
	CONSTRAINT pk_attachment PRIMARY KEY (sha256)
)
 STRICT

;
CREATE TABLE backup (
	id TEXT NOT NULL, 
	made TEXT NOT NULL, 
	path TEXT NOT NULL, 
	size INTEGER NOT NULL, 
	seconds REAL NOT NULL, 
	state TEXT NOT NULL, 
	text TEXT DEFAULT '' NOT NULL, 
	CONSTRAINT pk_backup PRIMARY KEY (id)
)
 STRICT

;
CREATE TABLE contact (
	job TEXT NOT NULL, 
	name TEXT NOT NULL, 
	address TEXT DEFAULT '' NOT NULL, 
	telephone TEXT DEFAULT '' NOT NULL, 
	email TEXT DEFAULT '' NOT NULL, 
	note TEXT DEFAULT '' NOT NULL, 
	CONSTRAINT pk_contact PRIMARY KEY (job)
)
 STRICT

;
CREATE TABLE device (
	id TEXT NOT NULL, 
	name TEXT NOT NULL, 
	secret TEXT NOT NULL, 
	paired TEXT NOT NULL, 
	last_seen TEXT NOT NULL, 
	CONSTRAINT pk_device PRIMARY KEY (id)
)
 STRICT

;
CREATE TABLE drill (
	id TEXT NOT NULL, 
	made TEXT NOT NULL, 
	seconds REAL NOT NULL, 
	state TEXT NOT NULL, 
	text TEXT DEFAULT '' NOT NULL, 
	CONSTRAINT pk_drill PRIMARY KEY (id)
)
 STRICT

;
CREATE TABLE instrument (
	name TEXT NOT NULL, 
	body TEXT NOT NULL, 
	last_check TEXT, 
	is_active INTEGER NOT NULL, 
	CONSTRAINT pk_instrument PRIMARY KEY (name)
)
 STRICT

;
CREATE TABLE meta (
	"key" TEXT NOT NULL, 
	value TEXT NOT NULL, 
	CONSTRAINT pk_meta PRIMARY KEY ("key")
)
 STRICT

;
INSERT INTO "meta" VALUES('origin','00112233aabbccdd');
INSERT INTO "meta" VALUES('generation','1');
CREATE TABLE person (
	"key" TEXT NOT NULL, 
	name TEXT NOT NULL, 
	pin TEXT, 
	is_active INTEGER NOT NULL, 
	since TEXT NOT NULL, 
	CONSTRAINT pk_person PRIMARY KEY ("key")
)
 STRICT

;
CREATE TABLE quote (
	id TEXT NOT NULL, 
	job TEXT NOT NULL, 
	body TEXT NOT NULL, 
	made TEXT NOT NULL, 
	state TEXT NOT NULL, 
	CONSTRAINT pk_quote PRIMARY KEY (id)
)
 STRICT

;
CREATE TABLE record (
	job TEXT NOT NULL, 
	number INTEGER NOT NULL, 
	id TEXT NOT NULL, 
	device TEXT NOT NULL, 
	device_number INTEGER NOT NULL, 
	received TEXT NOT NULL, 
	kind TEXT NOT NULL, 
	version INTEGER NOT NULL, 
	body TEXT NOT NULL, 
	previous TEXT NOT NULL, 
	hash TEXT NOT NULL, 
	CONSTRAINT pk_record PRIMARY KEY (job, number), 
	CONSTRAINT uq_record_id UNIQUE (id), 
	CONSTRAINT uq_record_job_device_device_number UNIQUE (job, device, device_number), 
	CONSTRAINT ck_record_number CHECK (number >= 1), 
	CONSTRAINT ck_record_device_number CHECK (device_number >= 1)
)
 STRICT

;
INSERT INTO "record" VALUES('N-1',1,'11111111111111111111111111111111','bench',1,'2031-05-04T12:00:00.000Z','job',1,'{"cylinders":1,"invented":true,"title":"Invented twin","units":"inch"}','0000000000000000000000000000000000000000000000000000000000000000','d8ac52649ae6cb786eed871353b1a53dc67998a2f8618240510c586365470075');
INSERT INTO "record" VALUES('N-1',2,'22222222222222222222222222222222','tablet',1,'2031-05-04T12:00:00.000Z','value',1,'{"cell":"sleeve.od","cylinder":1,"text":"54,01 mm ½"}','d8ac52649ae6cb786eed871353b1a53dc67998a2f8618240510c586365470075','08c945cbb2e6f41b5947c20f44ff397805702c285e8e65f8cdd4a60429d7397a');
INSERT INTO "record" VALUES('N-1',3,'33333333333333333333333333333333','tablet',2,'2031-05-04T12:00:00.000Z','value',1,'{"cell":"sleeve.od","cylinder":1,"replaces":["22222222222222222222222222222222"],"text":"2"}','08c945cbb2e6f41b5947c20f44ff397805702c285e8e65f8cdd4a60429d7397a','aa5883f9a9b96915e4da0157ea024f99737054834569d07057f4c5242d161a95');
CREATE TABLE seal (
	number INTEGER NOT NULL, 
	made TEXT NOT NULL, 
	reason TEXT NOT NULL, 
	job TEXT NOT NULL, 
	last INTEGER NOT NULL, 
	head TEXT NOT NULL, 
	previous TEXT NOT NULL, 
	hash TEXT NOT NULL, 
	CONSTRAINT pk_seal PRIMARY KEY (number)
)
 STRICT

;
INSERT INTO "seal" VALUES(1,'2031-05-04T12:00:00.000Z','release','N-1',3,'aa5883f9a9b96915e4da0157ea024f99737054834569d07057f4c5242d161a95','0000000000000000000000000000000000000000000000000000000000000000','e8c83228c29e1347ae1c21dcf7a8cb394f8001c6949e7ae39c71c9282de9f675');
CREATE TABLE setting (
	"key" TEXT NOT NULL, 
	value TEXT NOT NULL, 
	said TEXT NOT NULL, 
	person TEXT, 
	CONSTRAINT pk_setting PRIMARY KEY ("key"), 
	CONSTRAINT fk_setting_person FOREIGN KEY(person) REFERENCES person ("key")
)
 STRICT

;
CREATE TABLE study (
	study TEXT NOT NULL, 
	number INTEGER NOT NULL, 
	made TEXT NOT NULL, 
	kind TEXT NOT NULL, 
	body TEXT NOT NULL, 
	previous TEXT NOT NULL, 
	hash TEXT NOT NULL, 
	CONSTRAINT pk_study PRIMARY KEY (study, number), 
	CONSTRAINT ck_study_number CHECK (number >= 1)
)
 STRICT

;
INSERT INTO "study" VALUES('G-1',1,'2031-05-04T12:00:00.000Z','begun','{"instrument":"bore gauge"}','0000000000000000000000000000000000000000000000000000000000000000','h');
CREATE TABLE unsealed (
	job TEXT NOT NULL, 
	CONSTRAINT pk_unsealed PRIMARY KEY (job)
)
 STRICT

;
CREATE INDEX ix_seal_job_number ON seal (job, number);
CREATE INDEX ix_quote_job ON quote (job);
CREATE TRIGGER record_refuses_update BEFORE UPDATE ON record BEGIN SELECT RAISE(ABORT, 'what was kept is never changed'); END;
CREATE TRIGGER record_refuses_delete BEFORE DELETE ON record BEGIN SELECT RAISE(ABORT, 'what was kept is never changed'); END;
CREATE TRIGGER seal_refuses_update BEFORE UPDATE ON seal BEGIN SELECT RAISE(ABORT, 'what was kept is never changed'); END;
CREATE TRIGGER seal_refuses_delete BEFORE DELETE ON seal BEGIN SELECT RAISE(ABORT, 'what was kept is never changed'); END;
CREATE TRIGGER study_refuses_update BEFORE UPDATE ON study BEGIN SELECT RAISE(ABORT, 'what was kept is never changed'); END;
CREATE TRIGGER study_refuses_delete BEFORE DELETE ON study BEGIN SELECT RAISE(ABORT, 'what was kept is never changed'); END;
COMMIT;
