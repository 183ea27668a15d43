PRAGMA application_id = 1397050958;
BEGIN TRANSACTION;
CREATE TABLE advice_entry (
	id INTEGER NOT NULL,
	course_id TEXT NOT NULL,
	day DATE NOT NULL,
	advice TEXT NOT NULL,
	times INTEGER NOT NULL,
	entered TEXT NOT NULL,
	CONSTRAINT pk_advice_entry PRIMARY KEY (id),
	CONSTRAINT fk_advice_entry_course_id_course FOREIGN KEY(course_id) REFERENCES course (id),
	CONSTRAINT ck_advice_entry_times CHECK (times >= 0)
);
CREATE TABLE alembic_version (
	version_num VARCHAR(32) NOT NULL,
	CONSTRAINT alembic_version_pkc PRIMARY KEY (version_num)
);
INSERT INTO "alembic_version" VALUES('0027');
CREATE TABLE attachment (
	id INTEGER NOT NULL,
	consultation_id INTEGER NOT NULL,
	name TEXT NOT NULL,
	digest TEXT NOT NULL,
	recorded TEXT NOT NULL,
	CONSTRAINT pk_attachment PRIMARY KEY (id),
	CONSTRAINT fk_attachment_consultation_id_consultation FOREIGN KEY(consultation_id) REFERENCES consultation (id),
	CONSTRAINT fk_attachment_digest_paper_content FOREIGN KEY(digest) REFERENCES paper_content (digest)
);
INSERT INTO "attachment" VALUES(1,1,'letter.pdf','21af8e71c8703196df7fe1ff901869a88fe64c07bbaa83d838efb45a52b4f303','2027-01-04T09:30:00.000000+00:00');
INSERT INTO "attachment" VALUES(2,1,'wrong.png','21af8e71c8703196df7fe1ff901869a88fe64c07bbaa83d838efb45a52b4f303','2027-01-04T09:30:00.000000+00:00');
CREATE TABLE attachment_void (
	id INTEGER NOT NULL,
	attachment_id INTEGER NOT NULL,
	reason TEXT NOT NULL,
	struck DATE NOT NULL,
	recorded TEXT NOT NULL,
	CONSTRAINT pk_attachment_void PRIMARY KEY (id),
	CONSTRAINT fk_attachment_void_attachment_id_attachment FOREIGN KEY(attachment_id) REFERENCES attachment (id),
	CONSTRAINT uq_attachment_void_attachment_id UNIQUE (attachment_id)
);
INSERT INTO "attachment_void" VALUES(1,2,'of another client','2027-01-04','2026-11-28T15:21:45.201902+00:00');
CREATE TABLE batch (
	id TEXT NOT NULL,
	recorded TEXT NOT NULL,
	number TEXT NOT NULL,
	formula TEXT NOT NULL,
	amount TEXT NOT NULL,
	unit TEXT NOT NULL,
	made_on DATE NOT NULL,
	maker TEXT NOT NULL,
	use_by DATE NOT NULL,
	note TEXT NOT NULL,
	CONSTRAINT pk_batch PRIMARY KEY (id),
	CONSTRAINT uq_batch_number UNIQUE (number)
);
INSERT INTO "batch" VALUES('c642028835b244e29006a4fe01d1647b','2027-01-04T09:30:00.000000+00:00','270104-1','{"drops_per_ml":"20","form":"tea","id":"7ea0","ingredients":[{"herb":"nettle-leaf","parts":"2"},{"herb":"ginger","parts":"1/3"}],"name":"Nettle and ginger","tea":["3","250","decoction",15]}','70','g','2027-01-04','Oriel Tansy','2027-06-01','smells fresh');
CREATE TABLE batch_part (
	id INTEGER NOT NULL,
	place INTEGER NOT NULL,
	batch_id TEXT NOT NULL,
	herb TEXT NOT NULL,
	amount TEXT NOT NULL,
	unit TEXT NOT NULL,
	delivery_id TEXT,
	CONSTRAINT pk_batch_part PRIMARY KEY (id),
	CONSTRAINT fk_batch_part_batch_id_batch FOREIGN KEY(batch_id) REFERENCES batch (id),
	CONSTRAINT fk_batch_part_delivery_id_delivery FOREIGN KEY(delivery_id) REFERENCES delivery (id),
	CONSTRAINT uq_batch_part_batch_id_place UNIQUE (batch_id, place)
);
INSERT INTO "batch_part" VALUES(1,0,'c642028835b244e29006a4fe01d1647b','nettle-leaf','60','g','acc4bdaedd1a461a8656626de8b70e46');
INSERT INTO "batch_part" VALUES(2,1,'c642028835b244e29006a4fe01d1647b','ginger','10','g',NULL);
CREATE TABLE card_address (
	id INTEGER NOT NULL,
	place INTEGER NOT NULL,
	card_version_id INTEGER NOT NULL,
	text TEXT NOT NULL,
	CONSTRAINT pk_card_address PRIMARY KEY (id),
	CONSTRAINT fk_card_address_card_version_id_card_version FOREIGN KEY(card_version_id) REFERENCES card_version (id),
	CONSTRAINT uq_card_address_card_version_id_place UNIQUE (card_version_id, place)
);
INSERT INTO "card_address" VALUES(1,0,2,'2 Madder Row');
INSERT INTO "card_address" VALUES(2,1,2,'Testford');
CREATE TABLE card_version (
	id INTEGER NOT NULL,
	version INTEGER NOT NULL,
	saved TEXT NOT NULL,
	name TEXT NOT NULL,
	practitioner TEXT NOT NULL,
	phone TEXT NOT NULL,
	email TEXT NOT NULL, emergency TEXT, on_labels TEXT,
	CONSTRAINT pk_card_version PRIMARY KEY (id),
	CONSTRAINT uq_card_version_version UNIQUE (version)
);
INSERT INTO "card_version" VALUES(1,1,'2026-11-28T15:21:42.859059+00:00','Before','','','','','');
INSERT INTO "card_version" VALUES(2,2,'2026-11-28T15:21:42.871375+00:00','The Weld Rooms','Oriel Tansy','01632 960000','a@example.org','112','Made up for one client
Not tested by anyone');
CREATE TABLE client (
	id TEXT NOT NULL,
	version INTEGER NOT NULL,
	CONSTRAINT pk_client PRIMARY KEY (id)
);
INSERT INTO "client" VALUES('c10b155e5d9343c89814552b0aa8607b',3);
INSERT INTO "client" VALUES('c6ceb8aa52fe4929966b21e699528205',2);
CREATE TABLE client_fact (
	id INTEGER NOT NULL,
	place INTEGER NOT NULL,
	client_version_id INTEGER NOT NULL,
	kind TEXT NOT NULL,
	tag TEXT NOT NULL,
	since DATE,
	until DATE, at TEXT, name TEXT, dose TEXT, classes TEXT, not_for TEXT,
	CONSTRAINT pk_client_fact PRIMARY KEY (id),
	CONSTRAINT fk_client_fact_client_version_id_client_version FOREIGN KEY(client_version_id) REFERENCES client_version (id),
	CONSTRAINT uq_client_fact_client_version_id_kind_place UNIQUE (client_version_id, kind, place),
	CONSTRAINT ck_client_fact_kind CHECK (kind IN ('condition', 'medicine', 'allergy'))
);
INSERT INTO "client_fact" VALUES(1,0,2,'medicine','iron',NULL,NULL,'08:00 bedtime',NULL,NULL,NULL,NULL);
INSERT INTO "client_fact" VALUES(2,0,3,'condition','hypertension',NULL,NULL,NULL,'high blood pressure',NULL,NULL,NULL);
INSERT INTO "client_fact" VALUES(3,0,3,'medicine','apixaban','2026-06-01',NULL,'08:00 20:00',NULL,'5 mg',NULL,NULL);
INSERT INTO "client_fact" VALUES(4,1,3,'medicine','ramipril',NULL,NULL,NULL,NULL,NULL,'ace-inhibitor','hypertension');
INSERT INTO "client_fact" VALUES(5,2,3,'medicine','',NULL,NULL,NULL,'something blue',NULL,'',NULL);
INSERT INTO "client_fact" VALUES(6,0,3,'allergy','fennel',NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "client_fact" VALUES(7,0,5,'condition','peptic-ulcer','2027-01-04','2027-06-01',NULL,NULL,NULL,NULL,NULL);
INSERT INTO "client_fact" VALUES(8,1,5,'condition','osteoarthritis',NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "client_fact" VALUES(9,0,5,'medicine','anticoagulant',NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "client_fact" VALUES(10,0,5,'allergy','asteraceae-allergy',NULL,NULL,NULL,NULL,NULL,NULL,NULL);
CREATE TABLE client_version (
	id INTEGER NOT NULL,
	version INTEGER NOT NULL,
	client_id TEXT NOT NULL,
	saved TEXT NOT NULL,
	name TEXT NOT NULL,
	contact TEXT NOT NULL,
	note TEXT NOT NULL,
	born DATE,
	zone TEXT,
	weight_kg TEXT,
	archived BOOLEAN NOT NULL,
	rising INTEGER NOT NULL,
	breakfast INTEGER NOT NULL,
	mid_morning INTEGER NOT NULL,
	lunch INTEGER NOT NULL,
	mid_afternoon INTEGER NOT NULL,
	supper INTEGER NOT NULL,
	bedtime INTEGER NOT NULL, asked TEXT, sex TEXT,
	CONSTRAINT pk_client_version PRIMARY KEY (id),
	CONSTRAINT fk_client_version_client_id_client FOREIGN KEY(client_id) REFERENCES client (id),
	CONSTRAINT uq_client_version_client_id_version UNIQUE (client_id, version)
);
INSERT INTO "client_version" VALUES(1,1,'c10b155e5d9343c89814552b0aa8607b','2026-11-28T15:21:42.889495+00:00','Bram Sample','','',NULL,NULL,NULL,0,420,450,630,750,930,1110,1350,NULL,NULL);
INSERT INTO "client_version" VALUES(2,2,'c10b155e5d9343c89814552b0aa8607b','2026-11-28T15:21:42.909483+00:00','Bram Sample','','',NULL,NULL,NULL,1,420,450,630,750,930,1110,1350,NULL,NULL);
INSERT INTO "client_version" VALUES(3,3,'c10b155e5d9343c89814552b0aa8607b','2026-11-28T15:21:42.985260+00:00','Bram Sample','','',NULL,NULL,NULL,1,420,450,630,750,930,1110,1350,'medicines allergies','male');
INSERT INTO "client_version" VALUES(4,1,'c6ceb8aa52fe4929966b21e699528205','2026-11-28T15:21:43.093626+00:00','Before','','',NULL,NULL,NULL,0,420,450,630,750,930,1110,1350,NULL,NULL);
INSERT INTO "client_version" VALUES(5,2,'c6ceb8aa52fe4929966b21e699528205','2026-11-28T15:21:43.105593+00:00','Ärla Прикладова 例','01632 960001','prefers mornings','1970-05-01','Europe/London','139/2',0,420,480,630,750,930,1110,1470,NULL,NULL);
CREATE TABLE coming_day (
	matter TEXT NOT NULL,
	day INTEGER NOT NULL,
	course INTEGER NOT NULL,
	what TEXT NOT NULL,
	until INTEGER,
	CONSTRAINT pk_coming_day PRIMARY KEY (matter, day, course, what),
	CONSTRAINT fk_coming_day_course_course_standing FOREIGN KEY(course) REFERENCES course_standing (number)
)
 WITHOUT ROWID

;
INSERT INTO "coming_day" VALUES('back',740127,1,'Turmeric drops',NULL);
INSERT INTO "coming_day" VALUES('begin',739985,1,'loading',740021);
INSERT INTO "coming_day" VALUES('end',740224,1,'',NULL);
INSERT INTO "coming_day" VALUES('flare',740013,1,'rescue',740017);
INSERT INTO "coming_day" VALUES('flare end',740018,1,'rescue',NULL);
INSERT INTO "coming_day" VALUES('off',740106,1,'Turmeric drops',740126);
INSERT INTO "coming_day" VALUES('off',740211,1,'Turmeric drops',740224);
INSERT INTO "coming_day" VALUES('order',739988,1,'Nettle and ginger',739993);
INSERT INTO "coming_day" VALUES('pause',740001,1,'',740003);
INSERT INTO "coming_day" VALUES('phase',740022,1,'maintenance',740224);
INSERT INTO "coming_day" VALUES('resume',740004,1,'',NULL);
INSERT INTO "coming_day" VALUES('review',740021,1,'loading',NULL);
INSERT INTO "coming_day" VALUES('review',740106,1,'maintenance',NULL);
INSERT INTO "coming_day" VALUES('review',740190,1,'maintenance',NULL);
INSERT INTO "coming_day" VALUES('review',740224,1,'maintenance',NULL);
CREATE TABLE consultation (
	id INTEGER NOT NULL,
	client_id TEXT NOT NULL,
	CONSTRAINT pk_consultation PRIMARY KEY (id),
	CONSTRAINT fk_consultation_client_id_client FOREIGN KEY(client_id) REFERENCES client (id)
);
INSERT INTO "consultation" VALUES(1,'c6ceb8aa52fe4929966b21e699528205');
INSERT INTO "consultation" VALUES(2,'c6ceb8aa52fe4929966b21e699528205');
CREATE TABLE consultation_headings (
	id INTEGER NOT NULL,
	version INTEGER NOT NULL,
	saved TEXT NOT NULL,
	headings TEXT NOT NULL,
	CONSTRAINT pk_consultation_headings PRIMARY KEY (id),
	CONSTRAINT uq_consultation_headings_version UNIQUE (version)
);
INSERT INTO "consultation_headings" VALUES(1,1,'2026-11-28T15:21:45.034279+00:00','Before');
INSERT INTO "consultation_headings" VALUES(2,2,'2026-11-28T15:21:45.058144+00:00','Story
Plan');
CREATE TABLE consultation_part (
	id INTEGER NOT NULL,
	place INTEGER NOT NULL,
	consultation_version_id INTEGER NOT NULL,
	heading TEXT NOT NULL,
	words TEXT NOT NULL,
	CONSTRAINT pk_consultation_part PRIMARY KEY (id),
	CONSTRAINT fk_consultation_part_consultation_version_id_consultation_version FOREIGN KEY(consultation_version_id) REFERENCES consultation_version (id),
	CONSTRAINT uq_consultation_part_consultation_version_id_place UNIQUE (consultation_version_id, place)
);
INSERT INTO "consultation_part" VALUES(1,0,1,'Story','Naïve knees,
worse on stairs');
INSERT INTO "consultation_part" VALUES(2,1,1,'Plan','tea, and a walk a day');
INSERT INTO "consultation_part" VALUES(3,0,2,'Story','Naïve knees,
worse on stairs');
INSERT INTO "consultation_part" VALUES(4,1,2,'Plan','tea, and a walk a day');
INSERT INTO "consultation_part" VALUES(5,0,3,'Story','slept well');
CREATE TABLE consultation_version (
	id INTEGER NOT NULL,
	version INTEGER NOT NULL,
	saved TEXT NOT NULL,
	consultation_id INTEGER NOT NULL,
	day DATE NOT NULL,
	kind TEXT NOT NULL,
	minutes INTEGER,
	next_day DATE,
	next_at INTEGER,
	digest TEXT NOT NULL,
	CONSTRAINT pk_consultation_version PRIMARY KEY (id),
	CONSTRAINT fk_consultation_version_consultation_id_consultation FOREIGN KEY(consultation_id) REFERENCES consultation (id),
	CONSTRAINT uq_consultation_version_consultation_id_version UNIQUE (consultation_id, version),
	CONSTRAINT ck_consultation_version_kind CHECK (kind IN ('first', 'follow-up', 'telephone')),
	CONSTRAINT ck_consultation_version_minutes CHECK (minutes > 0)
);
INSERT INTO "consultation_version" VALUES(1,1,'2026-11-28T15:21:45.073714+00:00',1,'2027-01-04','first',NULL,'2027-01-25',570,'16c239f5449a5cf4cdd53d447e3ea6ad660b0f36de0270a69eb528d4f46a1932');
INSERT INTO "consultation_version" VALUES(2,2,'2026-11-28T15:21:45.122461+00:00',1,'2027-01-04','first',75,'2027-01-25',570,'74c2eabba58103a23d62dd5999ca49f1ef3d3140245ae777e8f373b4333c4261');
INSERT INTO "consultation_version" VALUES(3,1,'2026-11-28T15:21:45.141503+00:00',2,'2027-01-04','telephone',NULL,NULL,NULL,'d127feceaf057eca2b256416f8e5b9ac88d12600e39cb58cdda15d62526e0456');
CREATE TABLE consultation_void (
	id INTEGER NOT NULL,
	consultation_id INTEGER NOT NULL,
	reason TEXT NOT NULL,
	struck DATE NOT NULL,
	recorded TEXT NOT NULL,
	CONSTRAINT pk_consultation_void PRIMARY KEY (id),
	CONSTRAINT fk_consultation_void_consultation_id_consultation FOREIGN KEY(consultation_id) REFERENCES consultation (id),
	CONSTRAINT uq_consultation_void_consultation_id UNIQUE (consultation_id)
);
INSERT INTO "consultation_void" VALUES(1,2,'of another client','2027-01-04','2026-11-28T15:21:45.169481+00:00');
CREATE TABLE course (
	id TEXT NOT NULL,
	client_id TEXT NOT NULL,
	created TEXT NOT NULL,
	version INTEGER NOT NULL,
	CONSTRAINT pk_course PRIMARY KEY (id),
	CONSTRAINT fk_course_client_id_client FOREIGN KEY(client_id) REFERENCES client (id)
);
INSERT INTO "course" VALUES('b41716df93ea4381ae779638ae5ab67f','c6ceb8aa52fe4929966b21e699528205','2027-01-04T09:30:00.000000+00:00',8);
CREATE TABLE course_accept (
	id INTEGER NOT NULL,
	place INTEGER NOT NULL,
	course_version_id INTEGER NOT NULL,
	finding TEXT NOT NULL,
	reason TEXT NOT NULL, void TEXT, void_on DATE, decided DATE, made_for TEXT, discussed BOOLEAN,
	CONSTRAINT pk_course_accept PRIMARY KEY (id),
	CONSTRAINT fk_course_accept_course_version_id_course_version FOREIGN KEY(course_version_id) REFERENCES course_version (id),
	CONSTRAINT uq_course_accept_course_version_id_place UNIQUE (course_version_id, place)
);
INSERT INTO "course_accept" VALUES(1,0,2,'avoid-turmeric-anticoagulant','the doctor knows and watches',NULL,NULL,NULL,NULL,NULL);
INSERT INTO "course_accept" VALUES(2,1,2,'over.ginger','she has had as much before',NULL,NULL,'2027-01-04','{"facts":["peptic-ulcer","anticoagulant"],"taken":[["7ea0","loading","10/3","cup","0123456789ab"]]}',NULL);
INSERT INTO "course_accept" VALUES(3,2,2,'ginger.pregnancy','wrong client','another client''s','2027-01-04','2027-01-04','{"facts":[],"taken":[]}',NULL);
INSERT INTO "course_accept" VALUES(4,3,2,'turmeric.peptic-ulcer','stomach watched',NULL,NULL,'2027-01-04','{"facts":["peptic-ulcer"],"taken":[]}',1);
INSERT INTO "course_accept" VALUES(5,0,3,'avoid-turmeric-anticoagulant','the doctor knows and watches',NULL,NULL,NULL,NULL,NULL);
INSERT INTO "course_accept" VALUES(6,1,3,'over.ginger','she has had as much before',NULL,NULL,'2027-01-04','{"facts":["peptic-ulcer","anticoagulant"],"taken":[["7ea0","loading","10/3","cup","0123456789ab"]]}',NULL);
INSERT INTO "course_accept" VALUES(7,2,3,'ginger.pregnancy','wrong client','another client''s','2027-01-04','2027-01-04','{"facts":[],"taken":[]}',NULL);
INSERT INTO "course_accept" VALUES(8,3,3,'turmeric.peptic-ulcer','stomach watched',NULL,NULL,'2027-01-04','{"facts":["peptic-ulcer"],"taken":[]}',1);
INSERT INTO "course_accept" VALUES(9,0,4,'avoid-turmeric-anticoagulant','the doctor knows and watches',NULL,NULL,NULL,NULL,NULL);
INSERT INTO "course_accept" VALUES(10,1,4,'over.ginger','she has had as much before',NULL,NULL,'2027-01-04','{"facts":["peptic-ulcer","anticoagulant"],"taken":[["7ea0","loading","10/3","cup","0123456789ab"]]}',NULL);
INSERT INTO "course_accept" VALUES(11,2,4,'ginger.pregnancy','wrong client','another client''s','2027-01-04','2027-01-04','{"facts":[],"taken":[]}',NULL);
INSERT INTO "course_accept" VALUES(12,3,4,'turmeric.peptic-ulcer','stomach watched',NULL,NULL,'2027-01-04','{"facts":["peptic-ulcer"],"taken":[]}',1);
INSERT INTO "course_accept" VALUES(13,0,5,'avoid-turmeric-anticoagulant','the doctor knows and watches',NULL,NULL,NULL,NULL,NULL);
INSERT INTO "course_accept" VALUES(14,1,5,'over.ginger','she has had as much before',NULL,NULL,'2027-01-04','{"facts":["peptic-ulcer","anticoagulant"],"taken":[["7ea0","loading","10/3","cup","0123456789ab"]]}',NULL);
INSERT INTO "course_accept" VALUES(15,2,5,'ginger.pregnancy','wrong client','another client''s','2027-01-04','2027-01-04','{"facts":[],"taken":[]}',NULL);
INSERT INTO "course_accept" VALUES(16,3,5,'turmeric.peptic-ulcer','stomach watched',NULL,NULL,'2027-01-04','{"facts":["peptic-ulcer"],"taken":[]}',1);
INSERT INTO "course_accept" VALUES(17,0,6,'avoid-turmeric-anticoagulant','the doctor knows and watches',NULL,NULL,NULL,NULL,NULL);
INSERT INTO "course_accept" VALUES(18,1,6,'over.ginger','she has had as much before',NULL,NULL,'2027-01-04','{"facts":["peptic-ulcer","anticoagulant"],"taken":[["7ea0","loading","10/3","cup","0123456789ab"]]}',NULL);
INSERT INTO "course_accept" VALUES(19,2,6,'ginger.pregnancy','wrong client','another client''s','2027-01-04','2027-01-04','{"facts":[],"taken":[]}',NULL);
INSERT INTO "course_accept" VALUES(20,3,6,'turmeric.peptic-ulcer','stomach watched',NULL,NULL,'2027-01-04','{"facts":["peptic-ulcer"],"taken":[]}',1);
INSERT INTO "course_accept" VALUES(21,0,7,'avoid-turmeric-anticoagulant','the doctor knows and watches',NULL,NULL,NULL,NULL,NULL);
INSERT INTO "course_accept" VALUES(22,1,7,'over.ginger','she has had as much before',NULL,NULL,'2027-01-04','{"facts":["peptic-ulcer","anticoagulant"],"taken":[["7ea0","loading","10/3","cup","0123456789ab"]]}',NULL);
INSERT INTO "course_accept" VALUES(23,2,7,'ginger.pregnancy','wrong client','another client''s','2027-01-04','2027-01-04','{"facts":[],"taken":[]}',NULL);
INSERT INTO "course_accept" VALUES(24,3,7,'turmeric.peptic-ulcer','stomach watched',NULL,NULL,'2027-01-04','{"facts":["peptic-ulcer"],"taken":[]}',1);
INSERT INTO "course_accept" VALUES(25,0,8,'avoid-turmeric-anticoagulant','the doctor knows and watches',NULL,NULL,NULL,NULL,NULL);
INSERT INTO "course_accept" VALUES(26,1,8,'over.ginger','she has had as much before',NULL,NULL,'2027-01-04','{"facts":["peptic-ulcer","anticoagulant"],"taken":[["7ea0","loading","10/3","cup","0123456789ab"]]}',NULL);
INSERT INTO "course_accept" VALUES(27,2,8,'ginger.pregnancy','wrong client','another client''s','2027-01-04','2027-01-04','{"facts":[],"taken":[]}',NULL);
INSERT INTO "course_accept" VALUES(28,3,8,'turmeric.peptic-ulcer','stomach watched',NULL,NULL,'2027-01-04','{"facts":["peptic-ulcer"],"taken":[]}',1);
CREATE TABLE "course_revision" (
	id INTEGER NOT NULL,
	place INTEGER NOT NULL,
	course_id TEXT NOT NULL,
	version INTEGER NOT NULL,
	change TEXT NOT NULL,
	decided DATE NOT NULL,
	reason TEXT NOT NULL,
	phase TEXT,
	remedy TEXT,
	first_day DATE,
	last_day DATE,
	amount INTEGER,
	in_weeks BOOLEAN,
	mode TEXT,
	take TEXT,
	formula TEXT,
	CONSTRAINT pk_course_revision PRIMARY KEY (id),
	CONSTRAINT fk_course_revision_course_id_course FOREIGN KEY(course_id) REFERENCES course (id),
	CONSTRAINT uq_course_revision_course_id_place UNIQUE (course_id, place),
	CONSTRAINT ck_course_revision_change CHECK (change IN ('extend', 'advance', 'pause', 'flare', 'redirect', 'stop', 'end', 'join', 'reformulate', 'stay'))
);
INSERT INTO "course_revision" VALUES(1,0,'b41716df93ea4381ae779638ae5ab67f',2,'extend','2027-01-04','slow start','loading',NULL,NULL,NULL,1,1,NULL,NULL,NULL);
INSERT INTO "course_revision" VALUES(2,1,'b41716df93ea4381ae779638ae5ab67f',3,'pause','2027-01-04','',NULL,NULL,'2027-01-20','2027-01-22',NULL,NULL,'freeze',NULL,NULL);
INSERT INTO "course_revision" VALUES(3,2,'b41716df93ea4381ae779638ae5ab67f',4,'redirect','2027-01-04','',NULL,'7ea0','2027-01-25',NULL,NULL,NULL,NULL,'0.5 cup od',NULL);
INSERT INTO "course_revision" VALUES(4,3,'b41716df93ea4381ae779638ae5ab67f',5,'flare','2027-02-01','cold snap','rescue',NULL,'2027-02-01',NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "course_revision" VALUES(5,4,'b41716df93ea4381ae779638ae5ab67f',6,'advance','2027-02-08','','maintenance',NULL,'2027-02-10',NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "course_revision" VALUES(6,5,'b41716df93ea4381ae779638ae5ab67f',7,'stop','2027-05-01','rash',NULL,'4b00','2027-05-01',NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "course_revision" VALUES(7,6,'b41716df93ea4381ae779638ae5ab67f',8,'end','2027-08-01','',NULL,NULL,'2027-09-01',NULL,NULL,NULL,NULL,NULL,NULL);
CREATE TABLE course_standing (
	number INTEGER NOT NULL,
	course_id TEXT NOT NULL,
	client_id TEXT NOT NULL,
	read_as INTEGER NOT NULL,
	name TEXT NOT NULL,
	first INTEGER,
	last INTEGER,
	diary_since INTEGER,
	checked_as TEXT,
	found TEXT,
	CONSTRAINT pk_course_standing PRIMARY KEY (number),
	CONSTRAINT uq_course_standing_course_id UNIQUE (course_id),
	CONSTRAINT fk_course_standing_course_id_course FOREIGN KEY(course_id) REFERENCES course (id),
	CONSTRAINT fk_course_standing_client_id_client FOREIGN KEY(client_id) REFERENCES client (id)
);
INSERT INTO "course_standing" VALUES(1,'b41716df93ea4381ae779638ae5ab67f','c6ceb8aa52fe4929966b21e699528205',2,'Warm joints',739985,740224,739987,NULL,NULL);
CREATE TABLE "course_version" (
	id INTEGER NOT NULL,
	version INTEGER NOT NULL,
	course_id TEXT NOT NULL,
	saved TEXT NOT NULL,
	client_version_id INTEGER NOT NULL,
	revision_count INTEGER NOT NULL,
	snapshot_digest TEXT NOT NULL,
	start DATE NOT NULL,
	until DATE,
	protocol_name TEXT NOT NULL,
	digest TEXT NOT NULL, void TEXT, void_on DATE,
	CONSTRAINT pk_course_version PRIMARY KEY (id),
	CONSTRAINT fk_course_version_course_id_course FOREIGN KEY(course_id) REFERENCES course (id),
	CONSTRAINT fk_course_version_client_version_id_client_version FOREIGN KEY(client_version_id) REFERENCES client_version (id),
	CONSTRAINT fk_course_version_snapshot_digest_snapshot FOREIGN KEY(snapshot_digest) REFERENCES snapshot (digest),
	CONSTRAINT uq_course_version_course_id_version UNIQUE (course_id, version)
);
INSERT INTO "course_version" VALUES(1,1,'b41716df93ea4381ae779638ae5ab67f','2027-01-04T09:30:00.000000+00:00',5,0,'4c66a531f8f143a18f45344299b6497ff460d0aef84121cfc15ee8a584738490','2027-01-04',NULL,'Warm joints','899a448d0581287c16f0cfc512c3741a450bede916a6ebd65ece7df25a10fce3',NULL,NULL);
INSERT INTO "course_version" VALUES(2,2,'b41716df93ea4381ae779638ae5ab67f','2027-01-05T09:30:00.000000+00:00',5,1,'4c66a531f8f143a18f45344299b6497ff460d0aef84121cfc15ee8a584738490','2027-01-04',NULL,'Warm joints','bc780a9bcd022a8a7e0f97736cfe464c4d3ac08f6e5d0ac4e259986ed0c7bfb3',NULL,NULL);
INSERT INTO "course_version" VALUES(3,3,'b41716df93ea4381ae779638ae5ab67f','2027-01-06T09:30:00.000000+00:00',5,2,'4c66a531f8f143a18f45344299b6497ff460d0aef84121cfc15ee8a584738490','2027-01-04',NULL,'Warm joints','e8aa2efe1b9b59825cc6910498ae5c1e332784921470fd1aac1ed4eebc9a3563',NULL,NULL);
INSERT INTO "course_version" VALUES(4,4,'b41716df93ea4381ae779638ae5ab67f','2027-01-07T09:30:00.000000+00:00',5,3,'4c66a531f8f143a18f45344299b6497ff460d0aef84121cfc15ee8a584738490','2027-01-04',NULL,'Warm joints','09e56b32c10f6020f64fa4855aff931406aa94704980afbf5a82e2dfe485f90b',NULL,NULL);
INSERT INTO "course_version" VALUES(5,5,'b41716df93ea4381ae779638ae5ab67f','2027-01-08T09:30:00.000000+00:00',5,4,'4c66a531f8f143a18f45344299b6497ff460d0aef84121cfc15ee8a584738490','2027-01-04',NULL,'Warm joints','c21e8bd0c393e8b6ff75eeeaa0e3cb233f448e827a67843ddc1a5c0458f42fe5',NULL,NULL);
INSERT INTO "course_version" VALUES(6,6,'b41716df93ea4381ae779638ae5ab67f','2027-01-09T09:30:00.000000+00:00',5,5,'4c66a531f8f143a18f45344299b6497ff460d0aef84121cfc15ee8a584738490','2027-01-04',NULL,'Warm joints','318b32d2c06725bb381af037560232bf1b49feeddb65957a91dc6b29e8feb125',NULL,NULL);
INSERT INTO "course_version" VALUES(7,7,'b41716df93ea4381ae779638ae5ab67f','2027-01-10T09:30:00.000000+00:00',5,6,'4c66a531f8f143a18f45344299b6497ff460d0aef84121cfc15ee8a584738490','2027-01-04',NULL,'Warm joints','7f2c147954d9bd7508838c6b3431552c3685f7e2cf89e3b60657348a12454405',NULL,NULL);
INSERT INTO "course_version" VALUES(8,8,'b41716df93ea4381ae779638ae5ab67f','2027-01-11T09:30:00.000000+00:00',5,7,'4c66a531f8f143a18f45344299b6497ff460d0aef84121cfc15ee8a584738490','2027-01-04',NULL,'Warm joints','27b10e6642acae9a8e55622ec3243981e01d08398d03118e54cc3fe19bfd8f1d',NULL,NULL);
CREATE TABLE course_void (
	id INTEGER NOT NULL,
	place INTEGER NOT NULL,
	course_version_id INTEGER NOT NULL,
	reason TEXT NOT NULL,
	struck DATE,
	CONSTRAINT pk_course_void PRIMARY KEY (id),
	CONSTRAINT fk_course_void_course_version_id_course_version FOREIGN KEY(course_version_id) REFERENCES course_version (id),
	CONSTRAINT uq_course_void_course_version_id_place UNIQUE (course_version_id, place)
);
CREATE TABLE day_note (
	id INTEGER NOT NULL,
	course_id TEXT NOT NULL,
	day DATE NOT NULL,
	words TEXT NOT NULL,
	entered TEXT NOT NULL,
	CONSTRAINT pk_day_note PRIMARY KEY (id),
	CONSTRAINT fk_day_note_course_id_course FOREIGN KEY(course_id) REFERENCES course (id)
);
INSERT INTO "day_note" VALUES(1,'b41716df93ea4381ae779638ae5ab67f','2027-01-04','Slept','2026-11-28T15:21:44.458091+00:00');
INSERT INTO "day_note" VALUES(2,'b41716df93ea4381ae779638ae5ab67f','2027-01-04','Slept well after the tea','2026-11-28T15:21:44.506760+00:00');
CREATE TABLE delivery (
	id TEXT NOT NULL,
	recorded TEXT NOT NULL,
	material TEXT NOT NULL,
	held TEXT NOT NULL,
	unit TEXT NOT NULL,
	ratio TEXT,
	ethanol TEXT,
	supplier TEXT NOT NULL,
	batch TEXT NOT NULL,
	best_before DATE,
	cost TEXT,
	made_as TEXT,
	CONSTRAINT pk_delivery PRIMARY KEY (id),
	CONSTRAINT fk_delivery_made_as_batch FOREIGN KEY(made_as) REFERENCES batch (id),
	CONSTRAINT ck_delivery_held CHECK (held IN ('dried', 'powder', 'extract', 'liquid', 'other'))
);
INSERT INTO "delivery" VALUES('acc4bdaedd1a461a8656626de8b70e46','2027-01-04T09:30:00.000000+00:00','nettle-leaf','dried','g',NULL,NULL,'Hedgerow Supplies','N-17','2027-06-01','25/2',NULL);
CREATE TABLE diary_entry (
	line_id INTEGER NOT NULL,
	day INTEGER NOT NULL,
	saving_id INTEGER NOT NULL,
	doses INTEGER,
	CONSTRAINT pk_diary_entry PRIMARY KEY (line_id, day, saving_id),
	CONSTRAINT fk_diary_entry_line_id_diary_line FOREIGN KEY(line_id) REFERENCES diary_line (id),
	CONSTRAINT fk_diary_entry_saving_id_diary_saving FOREIGN KEY(saving_id) REFERENCES diary_saving (id),
	CONSTRAINT ck_diary_entry_doses CHECK (doses >= 0)
)
 WITHOUT ROWID

;
INSERT INTO "diary_entry" VALUES(1,739985,1,3);
INSERT INTO "diary_entry" VALUES(1,739985,2,2);
INSERT INTO "diary_entry" VALUES(1,739986,1,0);
CREATE TABLE diary_line (
	id INTEGER NOT NULL,
	course_id TEXT NOT NULL,
	remedy TEXT NOT NULL,
	CONSTRAINT pk_diary_line PRIMARY KEY (id),
	CONSTRAINT fk_diary_line_course_id_course FOREIGN KEY(course_id) REFERENCES course (id),
	CONSTRAINT uq_diary_line_course_id_remedy UNIQUE (course_id, remedy)
);
INSERT INTO "diary_line" VALUES(1,'b41716df93ea4381ae779638ae5ab67f','7ea0');
CREATE TABLE diary_saving (
	id INTEGER NOT NULL,
	entered TEXT NOT NULL,
	CONSTRAINT pk_diary_saving PRIMARY KEY (id)
);
INSERT INTO "diary_saving" VALUES(1,'2026-11-28T15:21:44.299881+00:00');
INSERT INTO "diary_saving" VALUES(2,'2026-11-28T15:21:44.394882+00:00');
CREATE TABLE dispensary_setting (
	id INTEGER NOT NULL,
	recorded TEXT NOT NULL,
	as_needed TEXT NOT NULL,
	spillage TEXT NOT NULL,
	ml TEXT NOT NULL,
	grams TEXT NOT NULL,
	capsules TEXT NOT NULL,
	weighed TEXT NOT NULL,
	measured TEXT NOT NULL,
	order_days INTEGER NOT NULL,
	CONSTRAINT pk_dispensary_setting PRIMARY KEY (id)
);
INSERT INTO "dispensary_setting" VALUES(1,'2027-01-04T09:30:00.000000+00:00','1/4','1/20','200','75','90','1/100','1/5',5);
CREATE TABLE draft (
	kind TEXT NOT NULL,
	subject TEXT NOT NULL,
	title TEXT NOT NULL,
	typed TEXT NOT NULL,
	content TEXT NOT NULL,
	CONSTRAINT pk_draft PRIMARY KEY (kind, subject)
);
INSERT INTO "draft" VALUES('new-client','','New client','2026-11-28T15:21:44.698971+00:00','{"fields": {"Name": "\u00c4rla", "asked": true}, "before": {"Name": "", "asked": null}}');
CREATE TABLE given_findings (
	giving_id INTEGER NOT NULL,
	course_id TEXT NOT NULL,
	found TEXT NOT NULL,
	CONSTRAINT pk_given_findings PRIMARY KEY (giving_id),
	CONSTRAINT fk_given_findings_giving_id_giving FOREIGN KEY(giving_id) REFERENCES giving (id),
	CONSTRAINT fk_given_findings_course_id_course FOREIGN KEY(course_id) REFERENCES course (id)
);
CREATE TABLE given_paper (
	id INTEGER NOT NULL,
	place INTEGER NOT NULL,
	giving_id INTEGER NOT NULL,
	kind TEXT NOT NULL,
	name TEXT NOT NULL,
	digest TEXT NOT NULL,
	CONSTRAINT pk_given_paper PRIMARY KEY (id),
	CONSTRAINT fk_given_paper_giving_id_giving FOREIGN KEY(giving_id) REFERENCES giving (id),
	CONSTRAINT fk_given_paper_digest_paper_content FOREIGN KEY(digest) REFERENCES paper_content (digest),
	CONSTRAINT uq_given_paper_giving_id_place UNIQUE (giving_id, place)
);
INSERT INTO "given_paper" VALUES(1,0,1,'handout','äп-warm-joints-handout-2027-01-04-no1.pdf','66e21ef3ef75a3eace75893f93dfa0a29089c74eea812e124817e6bbe58e8d2b');
INSERT INTO "given_paper" VALUES(2,0,2,'handout','äп-warm-joints-handout-2027-01-04-no2.pdf','66e21ef3ef75a3eace75893f93dfa0a29089c74eea812e124817e6bbe58e8d2b');
INSERT INTO "given_paper" VALUES(3,1,2,'reminders','reminders-2027-01-04-no2.ics','1eb544d609ae69e070aff539e475534778c6e94233a4953b9a563160a69b5a2a');
CREATE TABLE giving (
	id INTEGER NOT NULL,
	client_id TEXT NOT NULL,
	course_id TEXT,
	given TEXT NOT NULL,
	CONSTRAINT pk_giving PRIMARY KEY (id),
	CONSTRAINT fk_giving_client_id_client FOREIGN KEY(client_id) REFERENCES client (id),
	CONSTRAINT fk_giving_course_id_course FOREIGN KEY(course_id) REFERENCES course (id)
);
INSERT INTO "giving" VALUES(1,'c6ceb8aa52fe4929966b21e699528205','b41716df93ea4381ae779638ae5ab67f','2027-01-04T09:30:00.000000+00:00');
INSERT INTO "giving" VALUES(2,'c6ceb8aa52fe4929966b21e699528205','b41716df93ea4381ae779638ae5ab67f','2027-01-04T09:30:00.000000+00:00');
CREATE TABLE hand_over (
	id INTEGER NOT NULL,
	recorded TEXT NOT NULL,
	batch_id TEXT NOT NULL,
	client_id TEXT NOT NULL,
	course_id TEXT NOT NULL,
	remedy TEXT NOT NULL,
	day DATE NOT NULL,
	amount TEXT NOT NULL,
	unit TEXT NOT NULL,
	containers INTEGER NOT NULL,
	"by" TEXT NOT NULL,
	CONSTRAINT pk_hand_over PRIMARY KEY (id),
	CONSTRAINT fk_hand_over_batch_id_batch FOREIGN KEY(batch_id) REFERENCES batch (id),
	CONSTRAINT fk_hand_over_client_id_client FOREIGN KEY(client_id) REFERENCES client (id),
	CONSTRAINT fk_hand_over_course_id_course FOREIGN KEY(course_id) REFERENCES course (id)
);
INSERT INTO "hand_over" VALUES(1,'2027-01-04T09:30:00.000000+00:00','c642028835b244e29006a4fe01d1647b','c6ceb8aa52fe4929966b21e699528205','b41716df93ea4381ae779638ae5ab67f','7ea0','2027-01-04','70','g',1,'OT');
CREATE TABLE herb_note_version (
	id INTEGER NOT NULL,
	version INTEGER NOT NULL,
	saved TEXT NOT NULL,
	herb TEXT NOT NULL,
	text TEXT NOT NULL,
	CONSTRAINT pk_herb_note_version PRIMARY KEY (id),
	CONSTRAINT uq_herb_note_version_herb_version UNIQUE (herb, version)
);
INSERT INTO "herb_note_version" VALUES(1,1,'2026-11-28T15:21:42.810197+00:00','ginger','before');
INSERT INTO "herb_note_version" VALUES(2,2,'2026-11-28T15:21:42.820439+00:00','ginger','fresh root works better');
INSERT INTO "herb_note_version" VALUES(3,1,'2026-11-28T15:21:42.833906+00:00','own-5eed','before');
INSERT INTO "herb_note_version" VALUES(4,2,'2026-11-28T15:21:42.845531+00:00','own-5eed','pick in June');
CREATE TABLE matter_mark (
	id INTEGER NOT NULL,
	client_id TEXT NOT NULL,
	course_id TEXT,
	matter TEXT NOT NULL,
	what TEXT NOT NULL,
	day INTEGER NOT NULL,
	state TEXT NOT NULL,
	put_to INTEGER,
	recorded TEXT NOT NULL,
	CONSTRAINT pk_matter_mark PRIMARY KEY (id),
	CONSTRAINT fk_matter_mark_client_id_client FOREIGN KEY(client_id) REFERENCES client (id),
	CONSTRAINT fk_matter_mark_course_id_course FOREIGN KEY(course_id) REFERENCES course (id),
	CONSTRAINT ck_matter_mark_state CHECK (state IN ('open', 'done', 'put off'))
);
CREATE TABLE measure_entry (
	id INTEGER NOT NULL,
	course_id TEXT NOT NULL,
	measure TEXT NOT NULL,
	name TEXT NOT NULL,
	better TEXT NOT NULL,
	low TEXT NOT NULL,
	high TEXT NOT NULL,
	unit TEXT NOT NULL,
	matters TEXT,
	matters_percent TEXT,
	source TEXT NOT NULL,
	entered TEXT NOT NULL,
	CONSTRAINT pk_measure_entry PRIMARY KEY (id),
	CONSTRAINT fk_measure_entry_course_id_course FOREIGN KEY(course_id) REFERENCES course (id)
);
INSERT INTO "measure_entry" VALUES(1,'b41716df93ea4381ae779638ae5ab67f','grip','Grip','more','0','60','kg','5',NULL,'','2026-11-28T15:21:44.431238+00:00');
CREATE TABLE own_herb (
	id TEXT NOT NULL,
	version INTEGER NOT NULL,
	CONSTRAINT pk_own_herb PRIMARY KEY (id)
);
INSERT INTO "own_herb" VALUES('own-5eed',2);
CREATE TABLE own_herb_fact (
	id INTEGER NOT NULL,
	place INTEGER NOT NULL,
	own_herb_version_id INTEGER NOT NULL,
	kind TEXT NOT NULL,
	tag TEXT NOT NULL,
	level TEXT,
	text TEXT NOT NULL,
	CONSTRAINT pk_own_herb_fact PRIMARY KEY (id),
	CONSTRAINT fk_own_herb_fact_own_herb_version_id_own_herb_version FOREIGN KEY(own_herb_version_id) REFERENCES own_herb_version (id),
	CONSTRAINT uq_own_herb_fact_own_herb_version_id_place UNIQUE (own_herb_version_id, place),
	CONSTRAINT ck_own_herb_fact_kind CHECK (kind IN ('name', 'action', 'constituent', 'caution'))
);
INSERT INTO "own_herb_fact" VALUES(1,0,1,'name','Sampleweed',NULL,'');
INSERT INTO "own_herb_fact" VALUES(2,1,1,'name','Ärla''s leaf',NULL,'');
INSERT INTO "own_herb_fact" VALUES(3,2,1,'action','bitter',NULL,'');
INSERT INTO "own_herb_fact" VALUES(4,3,1,'constituent','tannins',NULL,'');
INSERT INTO "own_herb_fact" VALUES(5,4,1,'caution','peptic-ulcer','caution','may sting');
INSERT INTO "own_herb_fact" VALUES(6,0,2,'name','Sampleweed',NULL,'');
INSERT INTO "own_herb_fact" VALUES(7,1,2,'name','Ärla''s leaf',NULL,'');
INSERT INTO "own_herb_fact" VALUES(8,2,2,'action','bitter',NULL,'');
INSERT INTO "own_herb_fact" VALUES(9,3,2,'constituent','tannins',NULL,'');
INSERT INTO "own_herb_fact" VALUES(10,4,2,'caution','peptic-ulcer','caution','may sting');
CREATE TABLE own_herb_version (
	id INTEGER NOT NULL,
	version INTEGER NOT NULL,
	saved TEXT NOT NULL,
	own_herb_id TEXT NOT NULL,
	name TEXT NOT NULL,
	latin TEXT NOT NULL,
	family TEXT NOT NULL,
	part TEXT NOT NULL,
	pregnancy TEXT NOT NULL,
	lactation TEXT NOT NULL,
	min_age TEXT,
	min_ethanol TEXT,
	remark TEXT NOT NULL,
	reference TEXT NOT NULL,
	retired BOOLEAN NOT NULL,
	CONSTRAINT pk_own_herb_version PRIMARY KEY (id),
	CONSTRAINT fk_own_herb_version_own_herb_id_own_herb FOREIGN KEY(own_herb_id) REFERENCES own_herb (id),
	CONSTRAINT uq_own_herb_version_own_herb_id_version UNIQUE (own_herb_id, version)
);
INSERT INTO "own_herb_version" VALUES(1,1,'2026-11-28T15:21:42.451896+00:00','own-5eed','Before','Herba exempli','Exemplaceae','leaf','avoid','avoid','12','45/2','grown behind the rooms','own notebook, p. 3',0);
INSERT INTO "own_herb_version" VALUES(2,2,'2026-11-28T15:21:42.705286+00:00','own-5eed','Testwort','Herba exempli','Exemplaceae','leaf','avoid','avoid','12','45/2','grown behind the rooms','own notebook, p. 3',0);
CREATE TABLE own_range_version (
	id INTEGER NOT NULL,
	version INTEGER NOT NULL,
	saved TEXT NOT NULL,
	herb TEXT NOT NULL,
	form TEXT NOT NULL,
	low TEXT,
	high TEXT,
	ratio TEXT,
	reference TEXT NOT NULL,
	CONSTRAINT pk_own_range_version PRIMARY KEY (id),
	CONSTRAINT uq_own_range_version_herb_form_version UNIQUE (herb, form, version)
);
INSERT INTO "own_range_version" VALUES(1,1,'2026-11-28T15:21:42.726288+00:00','nettle-leaf','tea','4','9',NULL,'own notebook');
INSERT INTO "own_range_version" VALUES(2,1,'2026-11-28T15:21:42.747344+00:00','ginger','powder','1','2',NULL,'');
INSERT INTO "own_range_version" VALUES(3,2,'2026-11-28T15:21:42.761251+00:00','ginger','powder',NULL,NULL,NULL,'');
INSERT INTO "own_range_version" VALUES(4,2,'2026-11-28T15:21:42.786164+00:00','nettle-leaf','tea','4','10',NULL,'own notebook');
INSERT INTO "own_range_version" VALUES(5,1,'2026-11-28T15:21:42.802099+00:00','own-5eed','liquid','5/2','6','5','');
CREATE TABLE paper_content (
	digest TEXT NOT NULL,
	size INTEGER NOT NULL,
	content BLOB NOT NULL,
	CONSTRAINT pk_paper_content PRIMARY KEY (digest)
);
INSERT INTO "paper_content" VALUES('66e21ef3ef75a3eace75893f93dfa0a29089c74eea812e124817e6bbe58e8d2b',10,X'789C530D70715328CE484D2D01000F620339');
INSERT INTO "paper_content" VALUES('1eb544d609ae69e070aff539e475534778c6e94233a4953b9a563160a69b5a2a',1485,X'789C737275F7F4B30A7376F471F573710C721AE58E7247B9A3DC51EE10E4020041839E3D');
INSERT INTO "paper_content" VALUES('21af8e71c8703196df7fe1ff901869a88fe64c07bbaa83d838efb45a52b4f303',6,X'789C530D7071D335040004E1015E');
CREATE TABLE price_rule (
	id INTEGER NOT NULL,
	recorded TEXT NOT NULL,
	form TEXT NOT NULL,
	markup TEXT NOT NULL,
	fee TEXT NOT NULL,
	tax TEXT NOT NULL,
	step TEXT NOT NULL,
	currency TEXT NOT NULL,
	CONSTRAINT pk_price_rule PRIMARY KEY (id)
);
INSERT INTO "price_rule" VALUES(1,'2027-01-04T09:30:00.000000+00:00','','1/2','0','0','1/20','€');
INSERT INTO "price_rule" VALUES(2,'2027-01-04T09:30:00.000000+00:00','tea','0','0','0','1/100','€');
CREATE TABLE protocol (
	id TEXT NOT NULL,
	version INTEGER NOT NULL,
	CONSTRAINT pk_protocol PRIMARY KEY (id)
);
INSERT INTO "protocol" VALUES('9c3f6d870d63465794fcef568ed0dbdc',1);
INSERT INTO "protocol" VALUES('b882fe9c9a92463fadc09a249d554dc8',1);
CREATE TABLE protocol_advice (
	id INTEGER NOT NULL,
	place INTEGER NOT NULL,
	protocol_phase_id INTEGER NOT NULL,
	text TEXT NOT NULL,
	take TEXT,
	remind BOOLEAN NOT NULL,
	diary BOOLEAN NOT NULL,
	CONSTRAINT pk_protocol_advice PRIMARY KEY (id),
	CONSTRAINT fk_protocol_advice_protocol_phase_id_protocol_phase FOREIGN KEY(protocol_phase_id) REFERENCES protocol_phase (id),
	CONSTRAINT uq_protocol_advice_protocol_phase_id_place UNIQUE (protocol_phase_id, place)
);
INSERT INTO "protocol_advice" VALUES(1,0,4,'walk for 20 minutes','od on mon wed fri',1,1);
INSERT INTO "protocol_advice" VALUES(2,1,4,'leave out coffee',NULL,0,0);
CREATE TABLE protocol_aim (
	id INTEGER NOT NULL,
	place INTEGER NOT NULL,
	protocol_version_id INTEGER NOT NULL,
	aim TEXT NOT NULL,
	CONSTRAINT pk_protocol_aim PRIMARY KEY (id),
	CONSTRAINT fk_protocol_aim_protocol_version_id_protocol_version FOREIGN KEY(protocol_version_id) REFERENCES protocol_version (id),
	CONSTRAINT uq_protocol_aim_protocol_version_id_place UNIQUE (protocol_version_id, place)
);
INSERT INTO "protocol_aim" VALUES(1,0,1,'anti-inflammatory');
INSERT INTO "protocol_aim" VALUES(2,1,1,'bitter');
CREATE TABLE protocol_ceiling (
	id INTEGER NOT NULL,
	place INTEGER NOT NULL,
	protocol_version_id INTEGER NOT NULL,
	most INTEGER NOT NULL,
	CONSTRAINT pk_protocol_ceiling PRIMARY KEY (id),
	CONSTRAINT fk_protocol_ceiling_protocol_version_id_protocol_version FOREIGN KEY(protocol_version_id) REFERENCES protocol_version (id),
	CONSTRAINT uq_protocol_ceiling_protocol_version_id_place UNIQUE (protocol_version_id, place)
);
INSERT INTO "protocol_ceiling" VALUES(1,0,2,4);
CREATE TABLE protocol_ceiling_remedy (
	id INTEGER NOT NULL,
	place INTEGER NOT NULL,
	protocol_ceiling_id INTEGER NOT NULL,
	remedy_id TEXT NOT NULL,
	CONSTRAINT pk_protocol_ceiling_remedy PRIMARY KEY (id),
	CONSTRAINT fk_protocol_ceiling_remedy_remedy_id_remedy FOREIGN KEY(remedy_id) REFERENCES remedy (id),
	CONSTRAINT fk_protocol_ceiling_remedy_protocol_ceiling_id_protocol_ceiling FOREIGN KEY(protocol_ceiling_id) REFERENCES protocol_ceiling (id),
	CONSTRAINT uq_protocol_ceiling_remedy_protocol_ceiling_id_place UNIQUE (protocol_ceiling_id, place)
);
INSERT INTO "protocol_ceiling_remedy" VALUES(1,0,1,'4b00');
INSERT INTO "protocol_ceiling_remedy" VALUES(2,1,1,'71c0');
CREATE TABLE protocol_line (
	id INTEGER NOT NULL,
	place INTEGER NOT NULL,
	protocol_phase_id INTEGER NOT NULL,
	remedy_id TEXT NOT NULL,
	take TEXT NOT NULL, count_from TEXT, site TEXT, note TEXT,
	CONSTRAINT pk_protocol_line PRIMARY KEY (id),
	CONSTRAINT fk_protocol_line_remedy_id_remedy FOREIGN KEY(remedy_id) REFERENCES remedy (id),
	CONSTRAINT uq_protocol_line_protocol_phase_id_remedy_id UNIQUE (protocol_phase_id, remedy_id),
	CONSTRAINT fk_protocol_line_protocol_phase_id_protocol_phase FOREIGN KEY(protocol_phase_id) REFERENCES protocol_phase (id),
	CONSTRAINT uq_protocol_line_protocol_phase_id_place UNIQUE (protocol_phase_id, place)
);
INSERT INTO "protocol_line" VALUES(1,0,1,'7ea0','1 cup tds ac',NULL,NULL,NULL);
INSERT INTO "protocol_line" VALUES(2,1,1,'4b00','1 application bd',NULL,NULL,NULL);
INSERT INTO "protocol_line" VALUES(3,0,2,'71c0','2.5 mL bd 12 w on 3 w off',NULL,NULL,NULL);
INSERT INTO "protocol_line" VALUES(4,0,3,'cab0','2 capsule tds pc',NULL,NULL,NULL);
INSERT INTO "protocol_line" VALUES(5,0,4,'7ea0','1-2 cup tds',NULL,NULL,NULL);
INSERT INTO "protocol_line" VALUES(6,1,4,'71c0','2.5 mL bd',NULL,NULL,NULL);
INSERT INTO "protocol_line" VALUES(7,0,5,'7ea0','1 cup bd 12 w on 3 w off','course',NULL,'with honey');
INSERT INTO "protocol_line" VALUES(8,1,5,'4b00','1 application tds',NULL,'knee',NULL);
INSERT INTO "protocol_line" VALUES(9,0,6,'7ea0','1 cup qds',NULL,NULL,NULL);
CREATE TABLE protocol_phase (
	id INTEGER NOT NULL,
	place INTEGER NOT NULL,
	protocol_version_id INTEGER NOT NULL,
	phase TEXT NOT NULL,
	purpose TEXT NOT NULL,
	length TEXT,
	gate_measure TEXT,
	gate_fall_percent INTEGER,
	stand_in BOOLEAN NOT NULL, at_least_weeks INTEGER, gate_wants TEXT, gate_amount TEXT, gate_by_weeks INTEGER, begin_when TEXT,
	CONSTRAINT pk_protocol_phase PRIMARY KEY (id),
	CONSTRAINT uq_protocol_phase_protocol_version_id_phase UNIQUE (protocol_version_id, phase),
	CONSTRAINT fk_protocol_phase_protocol_version_id_protocol_version FOREIGN KEY(protocol_version_id) REFERENCES protocol_version (id),
	CONSTRAINT uq_protocol_phase_protocol_version_id_place UNIQUE (protocol_version_id, place)
);
INSERT INTO "protocol_phase" VALUES(1,0,1,'loading','loading','6 w','pain',30,0,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "protocol_phase" VALUES(2,1,1,'maintenance','maintenance',NULL,NULL,NULL,0,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "protocol_phase" VALUES(3,2,1,'rescue','rescue','5 d',NULL,NULL,1,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "protocol_phase" VALUES(4,0,2,'loading','loading','6 w',NULL,NULL,0,6,NULL,NULL,NULL,NULL);
INSERT INTO "protocol_phase" VALUES(5,1,2,'long term','long term',NULL,NULL,NULL,0,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "protocol_phase" VALUES(6,2,2,'rescue','rescue','5 d',NULL,NULL,0,NULL,NULL,NULL,NULL,'the knee is hot');
CREATE TABLE protocol_remedy (
	id INTEGER NOT NULL,
	place INTEGER NOT NULL,
	protocol_version_id INTEGER NOT NULL,
	remedy_id TEXT NOT NULL,
	CONSTRAINT pk_protocol_remedy PRIMARY KEY (id),
	CONSTRAINT fk_protocol_remedy_remedy_id_remedy FOREIGN KEY(remedy_id) REFERENCES remedy (id),
	CONSTRAINT uq_protocol_remedy_protocol_version_id_remedy_id UNIQUE (protocol_version_id, remedy_id),
	CONSTRAINT fk_protocol_remedy_protocol_version_id_protocol_version FOREIGN KEY(protocol_version_id) REFERENCES protocol_version (id),
	CONSTRAINT uq_protocol_remedy_protocol_version_id_place UNIQUE (protocol_version_id, place)
);
INSERT INTO "protocol_remedy" VALUES(1,0,1,'7ea0');
INSERT INTO "protocol_remedy" VALUES(2,1,1,'71c0');
INSERT INTO "protocol_remedy" VALUES(3,2,1,'cab0');
INSERT INTO "protocol_remedy" VALUES(4,3,1,'4b00');
INSERT INTO "protocol_remedy" VALUES(5,0,2,'7ea0');
INSERT INTO "protocol_remedy" VALUES(6,1,2,'71c0');
INSERT INTO "protocol_remedy" VALUES(7,2,2,'cab0');
INSERT INTO "protocol_remedy" VALUES(8,3,2,'4b00');
CREATE TABLE protocol_step (
	id INTEGER NOT NULL,
	place INTEGER NOT NULL,
	protocol_line_id INTEGER NOT NULL,
	after_weeks INTEGER NOT NULL,
	take TEXT NOT NULL, more_days INTEGER,
	CONSTRAINT pk_protocol_step PRIMARY KEY (id),
	CONSTRAINT fk_protocol_step_protocol_line_id_protocol_line FOREIGN KEY(protocol_line_id) REFERENCES protocol_line (id),
	CONSTRAINT uq_protocol_step_protocol_line_id_place UNIQUE (protocol_line_id, place)
);
INSERT INTO "protocol_step" VALUES(1,0,1,4,'1 cup bd',NULL);
INSERT INTO "protocol_step" VALUES(2,0,8,1,'1 application bd',3);
CREATE TABLE protocol_version (
	id INTEGER NOT NULL,
	version INTEGER NOT NULL,
	protocol_id TEXT NOT NULL,
	saved TEXT NOT NULL,
	name TEXT NOT NULL,
	note TEXT NOT NULL,
	CONSTRAINT pk_protocol_version PRIMARY KEY (id),
	CONSTRAINT fk_protocol_version_protocol_id_protocol FOREIGN KEY(protocol_id) REFERENCES protocol (id),
	CONSTRAINT uq_protocol_version_protocol_id_version UNIQUE (protocol_id, version)
);
INSERT INTO "protocol_version" VALUES(1,1,'9c3f6d870d63465794fcef568ed0dbdc','2026-11-28T15:21:43.361800+00:00','Warm joints','for cold weather');
INSERT INTO "protocol_version" VALUES(2,1,'b882fe9c9a92463fadc09a249d554dc8','2026-11-28T15:21:43.517497+00:00','Whole joints','');
CREATE TABLE publication (
	id TEXT NOT NULL,
	course_id TEXT NOT NULL,
	published TEXT NOT NULL,
	kind TEXT NOT NULL,
	number INTEGER NOT NULL,
	content BLOB NOT NULL,
	CONSTRAINT pk_publication PRIMARY KEY (id),
	CONSTRAINT fk_publication_course_id_course FOREIGN KEY(course_id) REFERENCES course (id),
	CONSTRAINT uq_publication_course_id_number UNIQUE (course_id, number)
);
INSERT INTO "publication" VALUES('20bd33e49553481389d3998d7b7ae25b','b41716df93ea4381ae779638ae5ab67f','2027-01-04T09:30:00.000000+00:00','reminders',1,X'789C6348CB2C2A2E010006580229');
INSERT INTO "publication" VALUES('bfba0f9c1d784a2ca6b9e19161a92fa4','b41716df93ea4381ae779638ae5ab67f','2027-01-04T09:30:00.000000+00:00','reminders',2,X'789C2B4E4DCECF4B010008CA027D');
CREATE TABLE reaction (
	id INTEGER NOT NULL,
	client_id TEXT NOT NULL,
	course_id TEXT,
	day DATE NOT NULL,
	remedy TEXT NOT NULL,
	what TEXT NOT NULL,
	recorded TEXT NOT NULL, harm TEXT, outcome TEXT,
	CONSTRAINT pk_reaction PRIMARY KEY (id),
	CONSTRAINT fk_reaction_client_id_client FOREIGN KEY(client_id) REFERENCES client (id),
	CONSTRAINT fk_reaction_course_id_course FOREIGN KEY(course_id) REFERENCES course (id)
);
INSERT INTO "reaction" VALUES(1,'c10b155e5d9343c89814552b0aa8607b',NULL,'2026-11-03','Cold tea','Itching, a rash','2027-01-04T09:30:00.000000+00:00',NULL,NULL);
INSERT INTO "reaction" VALUES(2,'c10b155e5d9343c89814552b0aa8607b',NULL,'2026-11-09','A tea at home','Sneezing','2027-01-04T09:30:00.000000+00:00','mild','less');
INSERT INTO "reaction" VALUES(3,'c10b155e5d9343c89814552b0aa8607b',NULL,'2026-11-10','A tea at home','Itching','2027-01-04T09:30:00.000000+00:00',NULL,NULL);
CREATE TABLE reaction_herb (
	id INTEGER NOT NULL,
	place INTEGER NOT NULL,
	reaction_id INTEGER NOT NULL,
	herb TEXT NOT NULL,
	CONSTRAINT pk_reaction_herb PRIMARY KEY (id),
	CONSTRAINT fk_reaction_herb_reaction_id_reaction FOREIGN KEY(reaction_id) REFERENCES reaction (id),
	CONSTRAINT uq_reaction_herb_reaction_id_place UNIQUE (reaction_id, place)
);
INSERT INTO "reaction_herb" VALUES(1,0,1,'yarrow');
INSERT INTO "reaction_herb" VALUES(2,1,1,'sage');
INSERT INTO "reaction_herb" VALUES(3,0,2,'chamomile');
INSERT INTO "reaction_herb" VALUES(4,0,3,'sage');
CREATE TABLE reaction_void (
	id INTEGER NOT NULL,
	reaction_id INTEGER NOT NULL,
	reason TEXT NOT NULL,
	struck DATE,
	recorded TEXT NOT NULL,
	CONSTRAINT pk_reaction_void PRIMARY KEY (id),
	CONSTRAINT fk_reaction_void_reaction_id_reaction FOREIGN KEY(reaction_id) REFERENCES reaction (id),
	CONSTRAINT uq_reaction_void_reaction_id UNIQUE (reaction_id)
);
INSERT INTO "reaction_void" VALUES(1,3,'another client''s','2026-11-11','2027-01-04T09:30:00.000000+00:00');
CREATE TABLE red_flag_check (
	id INTEGER NOT NULL,
	client_id TEXT NOT NULL,
	day DATE NOT NULL,
	recorded TEXT NOT NULL, cleared TEXT,
	CONSTRAINT pk_red_flag_check PRIMARY KEY (id),
	CONSTRAINT fk_red_flag_check_client_id_client FOREIGN KEY(client_id) REFERENCES client (id)
);
INSERT INTO "red_flag_check" VALUES(1,'c10b155e5d9343c89814552b0aa8607b','2026-11-03','2027-01-04T09:30:00.000000+00:00',NULL);
INSERT INTO "red_flag_check" VALUES(2,'c10b155e5d9343c89814552b0aa8607b','2026-11-05','2027-01-04T09:30:00.000000+00:00','the doctor saw the joint');
CREATE TABLE red_flag_tick (
	id INTEGER NOT NULL,
	place INTEGER NOT NULL,
	red_flag_check_id INTEGER NOT NULL,
	flag TEXT NOT NULL,
	CONSTRAINT pk_red_flag_tick PRIMARY KEY (id),
	CONSTRAINT fk_red_flag_tick_red_flag_check_id_red_flag_check FOREIGN KEY(red_flag_check_id) REFERENCES red_flag_check (id),
	CONSTRAINT uq_red_flag_tick_red_flag_check_id_place UNIQUE (red_flag_check_id, place)
);
INSERT INTO "red_flag_tick" VALUES(1,0,1,'hot-joint');
INSERT INTO "red_flag_tick" VALUES(2,1,1,'clot');
INSERT INTO "red_flag_tick" VALUES(3,0,2,'clot');
CREATE TABLE remedy (
	id TEXT NOT NULL,
	version INTEGER NOT NULL,
	CONSTRAINT pk_remedy PRIMARY KEY (id)
);
INSERT INTO "remedy" VALUES('7ea0',2);
INSERT INTO "remedy" VALUES('5f00',1);
INSERT INTO "remedy" VALUES('c4ea',1);
INSERT INTO "remedy" VALUES('90d0',1);
INSERT INTO "remedy" VALUES('d409',1);
INSERT INTO "remedy" VALUES('5c00',1);
INSERT INTO "remedy" VALUES('5c01',1);
INSERT INTO "remedy" VALUES('71c0',1);
INSERT INTO "remedy" VALUES('cab0',1);
INSERT INTO "remedy" VALUES('4b00',1);
CREATE TABLE "remedy_ingredient" (
	id INTEGER NOT NULL,
	place INTEGER NOT NULL,
	remedy_version_id INTEGER NOT NULL,
	herb TEXT NOT NULL,
	parts TEXT,
	ratio TEXT,
	ethanol TEXT,
	mg TEXT,
	filling TEXT,
	percent TEXT,
	drops TEXT,
	CONSTRAINT pk_remedy_ingredient PRIMARY KEY (id),
	CONSTRAINT fk_remedy_ingredient_remedy_version_id_remedy_version FOREIGN KEY(remedy_version_id) REFERENCES remedy_version (id),
	CONSTRAINT uq_remedy_ingredient_remedy_version_id_place UNIQUE (remedy_version_id, place)
);
INSERT INTO "remedy_ingredient" VALUES(1,0,1,'nettle-leaf','2',NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "remedy_ingredient" VALUES(2,1,1,'ginger','1/3',NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "remedy_ingredient" VALUES(3,0,2,'nettle-leaf','2',NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "remedy_ingredient" VALUES(4,1,2,'ginger','1/3',NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "remedy_ingredient" VALUES(5,0,3,'elderflower','1','2','25',NULL,NULL,NULL,NULL);
INSERT INTO "remedy_ingredient" VALUES(6,0,4,'comfrey',NULL,NULL,NULL,NULL,'infused-oil','25/2',NULL);
INSERT INTO "remedy_ingredient" VALUES(7,1,4,'rosemary',NULL,NULL,NULL,NULL,'essential-oil',NULL,'6');
INSERT INTO "remedy_ingredient" VALUES(8,0,5,'marshmallow','1',NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "remedy_ingredient" VALUES(9,0,6,'valerian','1','5','60',NULL,NULL,NULL,NULL);
INSERT INTO "remedy_ingredient" VALUES(10,0,7,'glucosamine',NULL,NULL,NULL,'1500','substance',NULL,NULL);
INSERT INTO "remedy_ingredient" VALUES(11,0,8,'magnesium',NULL,NULL,NULL,'200','substance',NULL,NULL);
INSERT INTO "remedy_ingredient" VALUES(12,0,9,'turmeric','30','3','60',NULL,NULL,NULL,NULL);
INSERT INTO "remedy_ingredient" VALUES(13,0,10,'boswellia',NULL,NULL,NULL,'400','extract',NULL,NULL);
INSERT INTO "remedy_ingredient" VALUES(14,0,11,'arnica','1','10',NULL,NULL,NULL,NULL,NULL);
CREATE TABLE "remedy_version" (
	id INTEGER NOT NULL,
	version INTEGER NOT NULL,
	remedy_id TEXT NOT NULL,
	saved TEXT NOT NULL,
	name TEXT NOT NULL,
	form TEXT NOT NULL,
	note TEXT NOT NULL,
	drops_per_ml TEXT NOT NULL,
	grams_per_cup TEXT,
	water_ml TEXT,
	method TEXT,
	minutes INTEGER,
	base TEXT,
	base_parts TEXT,
	sugar TEXT,
	batch_g TEXT,
	spoon_g TEXT,
	stirred_into TEXT, dropperful TEXT, dropperful_unit TEXT, mg_in TEXT, mg_in_unit TEXT, container TEXT, container_unit TEXT,
	CONSTRAINT pk_remedy_version PRIMARY KEY (id),
	CONSTRAINT ck_remedy_version_form CHECK (form <> ''),
	CONSTRAINT fk_remedy_version_remedy_id_remedy FOREIGN KEY(remedy_id) REFERENCES remedy (id),
	CONSTRAINT uq_remedy_version_remedy_id_version UNIQUE (remedy_id, version)
);
INSERT INTO "remedy_version" VALUES(1,1,'7ea0','2026-11-28T15:21:43.160314+00:00','Before','tea','','20','3','250','decoction',15,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "remedy_version" VALUES(2,2,'7ea0','2026-11-28T15:21:43.222368+00:00','Nettle and ginger','tea','dry the ginger well','20','3','250','decoction',15,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "remedy_version" VALUES(3,1,'5f00','2026-11-28T15:21:43.254296+00:00','Elder syrup','syrup','','20',NULL,NULL,NULL,NULL,'simple syrup','3','85',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "remedy_version" VALUES(4,1,'c4ea','2026-11-28T15:21:43.278064+00:00','Comfrey cream','cream','','20',NULL,NULL,NULL,NULL,'plain cream','0','0','30',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "remedy_version" VALUES(5,1,'90d0','2026-11-28T15:21:43.294021+00:00','Marshmallow','powder','','20',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'5/2','porridge',NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "remedy_version" VALUES(6,1,'d409','2026-11-28T15:21:43.309359+00:00','Valerian drops','tincture','','20',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'30','drop',NULL,NULL,NULL,NULL);
INSERT INTO "remedy_version" VALUES(7,1,'5c00','2026-11-28T15:21:43.328471+00:00','Glucosamine powder','product','','20',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'2','scoop',NULL,NULL);
INSERT INTO "remedy_version" VALUES(8,1,'5c01','2026-11-28T15:21:43.346149+00:00','Magnesium powder','product','','20',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'1','scoop','40','scoop');
INSERT INTO "remedy_version" VALUES(9,1,'71c0','2026-11-28T15:21:43.361800+00:00','Turmeric drops','tincture','','40',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "remedy_version" VALUES(10,1,'cab0','2026-11-28T15:21:43.361800+00:00','Boswellia','capsule','','20',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "remedy_version" VALUES(11,1,'4b00','2026-11-28T15:21:43.361800+00:00','Knee rub','rub','','20',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
CREATE TABLE returned (
	id INTEGER NOT NULL,
	recorded TEXT NOT NULL,
	course_id TEXT NOT NULL,
	remedy TEXT NOT NULL,
	day DATE NOT NULL,
	amount TEXT,
	unit TEXT NOT NULL,
	within TEXT NOT NULL,
	lost TEXT NOT NULL,
	is_kept BOOLEAN NOT NULL,
	note TEXT NOT NULL,
	CONSTRAINT pk_returned PRIMARY KEY (id),
	CONSTRAINT fk_returned_course_id_course FOREIGN KEY(course_id) REFERENCES course (id)
);
INSERT INTO "returned" VALUES(1,'2027-01-04T09:30:00.000000+00:00','b41716df93ea4381ae779638ae5ab67f','7ea0','2027-01-04','20','g','5','1',1,'a little');
INSERT INTO "returned" VALUES(2,'2027-01-04T09:30:00.000000+00:00','b41716df93ea4381ae779638ae5ab67f','7ea0','2027-01-04','20','g','5','1',1,'about a fifth');
CREATE TABLE score_entry (
	id INTEGER NOT NULL,
	course_id TEXT NOT NULL,
	measure TEXT NOT NULL,
	entered TEXT NOT NULL,
	day DATE NOT NULL,
	value TEXT,
	CONSTRAINT pk_score_entry PRIMARY KEY (id),
	CONSTRAINT fk_score_entry_course_id_course FOREIGN KEY(course_id) REFERENCES course (id)
);
INSERT INTO "score_entry" VALUES(1,'b41716df93ea4381ae779638ae5ab67f','pain','2026-11-28T15:21:44.417513+00:00','2027-01-04','13/2');
CREATE TABLE snapshot (
	digest TEXT NOT NULL,
	content TEXT NOT NULL,
	schema INTEGER NOT NULL,
	CONSTRAINT pk_snapshot PRIMARY KEY (digest)
);
INSERT INTO "snapshot" VALUES('4c66a531f8f143a18f45344299b6497ff460d0aef84121cfc15ee8a584738490','{"protocol":{"aims":["anti-inflammatory","bitter"],"name":"Warm joints","phases":[{"gate":["pain",30],"id":"loading","length":"6 w","lines":[{"remedy":"7ea0","steps":[[4,"1 cup bd"]],"take":"1 cup tds ac"},{"remedy":"4b00","steps":[],"take":"1 application bd"}],"purpose":"loading","stand_in":false},{"gate":null,"id":"maintenance","length":null,"lines":[{"remedy":"71c0","steps":[],"take":"2.5 mL bd 12 w on 3 w off"}],"purpose":"maintenance","stand_in":false},{"gate":null,"id":"rescue","length":"5 d","lines":[{"remedy":"cab0","steps":[],"take":"2 capsule tds pc"}],"purpose":"rescue","stand_in":true}]},"remedies":[{"drops_per_ml":"20","form":"tea","id":"7ea0","ingredients":[{"herb":"nettle-leaf","parts":"2"},{"herb":"ginger","parts":"1/3"}],"name":"Nettle and ginger","tea":["3","250","decoction",15]},{"drops_per_ml":"40","form":"tincture","id":"71c0","ingredients":[{"ethanol":"60","herb":"turmeric","parts":"30","ratio":"3"}],"name":"Turmeric drops","tea":null},{"drops_per_ml":"20","form":"capsule","id":"cab0","ingredients":[{"filling":"extract","herb":"boswellia","mg":"400"}],"name":"Boswellia","tea":null},{"drops_per_ml":"20","form":"rub","id":"4b00","ingredients":[{"herb":"arnica","parts":"1","ratio":"10"}],"name":"Knee rub","tea":null}]}',1);
CREATE TABLE stock_minimum (
	id INTEGER NOT NULL,
	recorded TEXT NOT NULL,
	material TEXT NOT NULL,
	held TEXT NOT NULL,
	unit TEXT NOT NULL,
	ratio TEXT,
	ethanol TEXT,
	amount TEXT NOT NULL,
	CONSTRAINT pk_stock_minimum PRIMARY KEY (id),
	CONSTRAINT ck_stock_minimum_held CHECK (held IN ('dried', 'powder', 'extract', 'liquid', 'other'))
);
INSERT INTO "stock_minimum" VALUES(1,'2027-01-04T09:30:00.000000+00:00','nettle-leaf','dried','g',NULL,NULL,'250');
CREATE TABLE stock_movement (
	id INTEGER NOT NULL,
	recorded TEXT NOT NULL,
	delivery_id TEXT NOT NULL,
	day DATE NOT NULL,
	kind TEXT NOT NULL,
	amount TEXT NOT NULL,
	reason TEXT NOT NULL,
	batch_id TEXT,
	CONSTRAINT pk_stock_movement PRIMARY KEY (id),
	CONSTRAINT fk_stock_movement_delivery_id_delivery FOREIGN KEY(delivery_id) REFERENCES delivery (id),
	CONSTRAINT fk_stock_movement_batch_id_batch FOREIGN KEY(batch_id) REFERENCES batch (id),
	CONSTRAINT ck_stock_movement_kind CHECK (kind IN ('received', 'used', 'corrected', 'counted', 'discarded'))
);
INSERT INTO "stock_movement" VALUES(1,'2027-01-04T09:30:00.000000+00:00','acc4bdaedd1a461a8656626de8b70e46','2027-01-04','received','500','',NULL);
INSERT INTO "stock_movement" VALUES(2,'2027-01-04T09:30:00.000000+00:00','acc4bdaedd1a461a8656626de8b70e46','2027-01-04','used','-60','','c642028835b244e29006a4fe01d1647b');
CREATE INDEX ix_advice_entry_course_id_day_advice ON advice_entry (course_id, day, advice);
CREATE INDEX ix_attachment_consultation_id ON attachment (consultation_id);
CREATE INDEX ix_batch_part_delivery_id ON batch_part (delivery_id);
CREATE INDEX ix_coming_day_course ON coming_day (course);
CREATE INDEX ix_consultation_client_id ON consultation (client_id);
CREATE INDEX ix_course_client_id ON course (client_id);
CREATE INDEX ix_course_standing_client_id ON course_standing (client_id);
CREATE INDEX ix_day_note_course_id_day ON day_note (course_id, day);
CREATE INDEX ix_delivery_made_as ON delivery (made_as);
CREATE INDEX ix_delivery_material ON delivery (material);
CREATE INDEX ix_given_findings_course_id ON given_findings (course_id);
CREATE INDEX ix_giving_client_id ON giving (client_id);
CREATE INDEX ix_hand_over_batch_id ON hand_over (batch_id);
CREATE INDEX ix_hand_over_client_id ON hand_over (client_id);
CREATE INDEX ix_hand_over_course_id ON hand_over (course_id);
CREATE INDEX ix_matter_mark_day ON matter_mark (day);
CREATE INDEX ix_matter_mark_put_to ON matter_mark (put_to);
CREATE INDEX ix_measure_entry_course_id ON measure_entry (course_id);
CREATE INDEX ix_reaction_client_id ON reaction (client_id);
CREATE INDEX ix_red_flag_check_client_id ON red_flag_check (client_id);
CREATE INDEX ix_returned_course_id ON returned (course_id);
CREATE INDEX ix_score_entry_course_id_day_measure ON score_entry (course_id, day, measure);
CREATE INDEX ix_stock_movement_delivery_id ON stock_movement (delivery_id);
CREATE TRIGGER keep_advice_entry_from_delete BEFORE DELETE ON advice_entry BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END;
CREATE TRIGGER keep_advice_entry_from_update BEFORE UPDATE ON advice_entry BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END;
CREATE TRIGGER keep_attachment_from_delete BEFORE DELETE ON attachment BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END;
CREATE TRIGGER keep_attachment_from_update BEFORE UPDATE ON attachment BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END;
CREATE TRIGGER keep_attachment_void_from_delete BEFORE DELETE ON attachment_void BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END;
CREATE TRIGGER keep_attachment_void_from_update BEFORE UPDATE ON attachment_void BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END;
CREATE TRIGGER keep_batch_from_delete BEFORE DELETE ON batch BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END;
CREATE TRIGGER keep_batch_from_update BEFORE UPDATE ON batch BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END;
CREATE TRIGGER keep_batch_part_from_delete BEFORE DELETE ON batch_part BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END;
CREATE TRIGGER keep_batch_part_from_update BEFORE UPDATE ON batch_part BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END;
CREATE TRIGGER keep_card_address_from_delete BEFORE DELETE ON card_address BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END;
CREATE TRIGGER keep_card_address_from_update BEFORE UPDATE ON card_address BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END;
CREATE TRIGGER keep_card_version_from_delete BEFORE DELETE ON card_version BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END;
CREATE TRIGGER keep_card_version_from_update BEFORE UPDATE ON card_version BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END;
CREATE TRIGGER keep_client_from_delete BEFORE DELETE ON client BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END;
CREATE TRIGGER keep_client_fact_from_delete BEFORE DELETE ON client_fact BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END;
CREATE TRIGGER keep_client_fact_from_update BEFORE UPDATE ON client_fact BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END;
CREATE TRIGGER keep_client_version_from_delete BEFORE DELETE ON client_version BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END;
CREATE TRIGGER keep_client_version_from_update BEFORE UPDATE ON client_version BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END;
CREATE TRIGGER keep_consultation_from_delete BEFORE DELETE ON consultation BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END;
CREATE TRIGGER keep_consultation_from_update BEFORE UPDATE ON consultation BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END;
CREATE TRIGGER keep_consultation_headings_from_delete BEFORE DELETE ON consultation_headings BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END;
CREATE TRIGGER keep_consultation_headings_from_update BEFORE UPDATE ON consultation_headings BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END;
CREATE TRIGGER keep_consultation_part_from_delete BEFORE DELETE ON consultation_part BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END;
CREATE TRIGGER keep_consultation_part_from_update BEFORE UPDATE ON consultation_part BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END;
CREATE TRIGGER keep_consultation_version_from_delete BEFORE DELETE ON consultation_version BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END;
CREATE TRIGGER keep_consultation_version_from_update BEFORE UPDATE ON consultation_version BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END;
CREATE TRIGGER keep_consultation_void_from_delete BEFORE DELETE ON consultation_void BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END;
CREATE TRIGGER keep_consultation_void_from_update BEFORE UPDATE ON consultation_void BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END;
CREATE TRIGGER keep_course_from_delete BEFORE DELETE ON course BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END;
CREATE TRIGGER keep_course_accept_from_delete BEFORE DELETE ON course_accept BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END;
CREATE TRIGGER keep_course_accept_from_update BEFORE UPDATE ON course_accept BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END;
CREATE TRIGGER keep_course_revision_from_delete BEFORE DELETE ON course_revision BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END;
CREATE TRIGGER keep_course_revision_from_update BEFORE UPDATE ON course_revision BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END;
CREATE TRIGGER keep_course_version_from_delete BEFORE DELETE ON course_version BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END;
CREATE TRIGGER keep_course_version_from_update BEFORE UPDATE ON course_version BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END;
CREATE TRIGGER keep_course_void_from_delete BEFORE DELETE ON course_void BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END;
CREATE TRIGGER keep_course_void_from_update BEFORE UPDATE ON course_void BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END;
CREATE TRIGGER keep_day_note_from_delete BEFORE DELETE ON day_note BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END;
CREATE TRIGGER keep_day_note_from_update BEFORE UPDATE ON day_note BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END;
CREATE TRIGGER keep_delivery_from_delete BEFORE DELETE ON delivery BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END;
CREATE TRIGGER keep_delivery_from_update BEFORE UPDATE ON delivery BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END;
CREATE TRIGGER keep_diary_entry_from_delete BEFORE DELETE ON diary_entry BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END;
CREATE TRIGGER keep_diary_entry_from_update BEFORE UPDATE ON diary_entry BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END;
CREATE TRIGGER keep_diary_line_from_delete BEFORE DELETE ON diary_line BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END;
CREATE TRIGGER keep_diary_line_from_update BEFORE UPDATE ON diary_line BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END;
CREATE TRIGGER keep_diary_saving_from_delete BEFORE DELETE ON diary_saving BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END;
CREATE TRIGGER keep_diary_saving_from_update BEFORE UPDATE ON diary_saving BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END;
CREATE TRIGGER keep_dispensary_setting_from_delete BEFORE DELETE ON dispensary_setting BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END;
CREATE TRIGGER keep_dispensary_setting_from_update BEFORE UPDATE ON dispensary_setting BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END;
CREATE TRIGGER keep_given_findings_from_delete BEFORE DELETE ON given_findings BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END;
CREATE TRIGGER keep_given_findings_from_update BEFORE UPDATE ON given_findings BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END;
CREATE TRIGGER keep_given_paper_from_delete BEFORE DELETE ON given_paper BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END;
CREATE TRIGGER keep_given_paper_from_update BEFORE UPDATE ON given_paper BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END;
CREATE TRIGGER keep_giving_from_delete BEFORE DELETE ON giving BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END;
CREATE TRIGGER keep_giving_from_update BEFORE UPDATE ON giving BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END;
CREATE TRIGGER keep_hand_over_from_delete BEFORE DELETE ON hand_over BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END;
CREATE TRIGGER keep_hand_over_from_update BEFORE UPDATE ON hand_over BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END;
CREATE TRIGGER keep_herb_note_version_from_delete BEFORE DELETE ON herb_note_version BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END;
CREATE TRIGGER keep_herb_note_version_from_update BEFORE UPDATE ON herb_note_version BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END;
CREATE TRIGGER keep_matter_mark_from_delete BEFORE DELETE ON matter_mark BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END;
CREATE TRIGGER keep_matter_mark_from_update BEFORE UPDATE ON matter_mark BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END;
CREATE TRIGGER keep_measure_entry_from_delete BEFORE DELETE ON measure_entry BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END;
CREATE TRIGGER keep_measure_entry_from_update BEFORE UPDATE ON measure_entry BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END;
CREATE TRIGGER keep_own_herb_from_delete BEFORE DELETE ON own_herb BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END;
CREATE TRIGGER keep_own_herb_fact_from_delete BEFORE DELETE ON own_herb_fact BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END;
CREATE TRIGGER keep_own_herb_fact_from_update BEFORE UPDATE ON own_herb_fact BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END;
CREATE TRIGGER keep_own_herb_version_from_delete BEFORE DELETE ON own_herb_version BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END;
CREATE TRIGGER keep_own_herb_version_from_update BEFORE UPDATE ON own_herb_version BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END;
CREATE TRIGGER keep_own_range_version_from_delete BEFORE DELETE ON own_range_version BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END;
CREATE TRIGGER keep_own_range_version_from_update BEFORE UPDATE ON own_range_version BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END;
CREATE TRIGGER keep_paper_content_from_delete BEFORE DELETE ON paper_content BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END;
CREATE TRIGGER keep_paper_content_from_update BEFORE UPDATE ON paper_content BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END;
CREATE TRIGGER keep_price_rule_from_delete BEFORE DELETE ON price_rule BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END;
CREATE TRIGGER keep_price_rule_from_update BEFORE UPDATE ON price_rule BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END;
CREATE TRIGGER keep_protocol_from_delete BEFORE DELETE ON protocol BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END;
CREATE TRIGGER keep_protocol_advice_from_delete BEFORE DELETE ON protocol_advice BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END;
CREATE TRIGGER keep_protocol_advice_from_update BEFORE UPDATE ON protocol_advice BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END;
CREATE TRIGGER keep_protocol_aim_from_delete BEFORE DELETE ON protocol_aim BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END;
CREATE TRIGGER keep_protocol_aim_from_update BEFORE UPDATE ON protocol_aim BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END;
CREATE TRIGGER keep_protocol_ceiling_from_delete BEFORE DELETE ON protocol_ceiling BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END;
CREATE TRIGGER keep_protocol_ceiling_from_update BEFORE UPDATE ON protocol_ceiling BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END;
CREATE TRIGGER keep_protocol_ceiling_remedy_from_delete BEFORE DELETE ON protocol_ceiling_remedy BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END;
CREATE TRIGGER keep_protocol_ceiling_remedy_from_update BEFORE UPDATE ON protocol_ceiling_remedy BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END;
CREATE TRIGGER keep_protocol_line_from_delete BEFORE DELETE ON protocol_line BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END;
CREATE TRIGGER keep_protocol_line_from_update BEFORE UPDATE ON protocol_line BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END;
CREATE TRIGGER keep_protocol_phase_from_delete BEFORE DELETE ON protocol_phase BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END;
CREATE TRIGGER keep_protocol_phase_from_update BEFORE UPDATE ON protocol_phase BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END;
CREATE TRIGGER keep_protocol_remedy_from_delete BEFORE DELETE ON protocol_remedy BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END;
CREATE TRIGGER keep_protocol_remedy_from_update BEFORE UPDATE ON protocol_remedy BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END;
CREATE TRIGGER keep_protocol_step_from_delete BEFORE DELETE ON protocol_step BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END;
CREATE TRIGGER keep_protocol_step_from_update BEFORE UPDATE ON protocol_step BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END;
CREATE TRIGGER keep_protocol_version_from_delete BEFORE DELETE ON protocol_version BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END;
CREATE TRIGGER keep_protocol_version_from_update BEFORE UPDATE ON protocol_version BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END;
CREATE TRIGGER keep_publication_from_delete BEFORE DELETE ON publication BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END;
CREATE TRIGGER keep_publication_from_update BEFORE UPDATE ON publication BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END;
CREATE TRIGGER keep_reaction_from_delete BEFORE DELETE ON reaction BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END;
CREATE TRIGGER keep_reaction_from_update BEFORE UPDATE ON reaction BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END;
CREATE TRIGGER keep_reaction_herb_from_delete BEFORE DELETE ON reaction_herb BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END;
CREATE TRIGGER keep_reaction_herb_from_update BEFORE UPDATE ON reaction_herb BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END;
CREATE TRIGGER keep_reaction_void_from_delete BEFORE DELETE ON reaction_void BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END;
CREATE TRIGGER keep_reaction_void_from_update BEFORE UPDATE ON reaction_void BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END;
CREATE TRIGGER keep_red_flag_check_from_delete BEFORE DELETE ON red_flag_check BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END;
CREATE TRIGGER keep_red_flag_check_from_update BEFORE UPDATE ON red_flag_check BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END;
CREATE TRIGGER keep_red_flag_tick_from_delete BEFORE DELETE ON red_flag_tick BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END;
CREATE TRIGGER keep_red_flag_tick_from_update BEFORE UPDATE ON red_flag_tick BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END;
CREATE TRIGGER keep_remedy_from_delete BEFORE DELETE ON remedy BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END;
CREATE TRIGGER keep_remedy_ingredient_from_delete BEFORE DELETE ON remedy_ingredient BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END;
CREATE TRIGGER keep_remedy_ingredient_from_update BEFORE UPDATE ON remedy_ingredient BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END;
CREATE TRIGGER keep_remedy_version_from_delete BEFORE DELETE ON remedy_version BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END;
CREATE TRIGGER keep_remedy_version_from_update BEFORE UPDATE ON remedy_version BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END;
CREATE TRIGGER keep_returned_from_delete BEFORE DELETE ON returned BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END;
CREATE TRIGGER keep_returned_from_update BEFORE UPDATE ON returned BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END;
CREATE TRIGGER keep_score_entry_from_delete BEFORE DELETE ON score_entry BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END;
CREATE TRIGGER keep_score_entry_from_update BEFORE UPDATE ON score_entry BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END;
CREATE TRIGGER keep_snapshot_from_delete BEFORE DELETE ON snapshot BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END;
CREATE TRIGGER keep_snapshot_from_update BEFORE UPDATE ON snapshot BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END;
CREATE TRIGGER keep_stock_minimum_from_delete BEFORE DELETE ON stock_minimum BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END;
CREATE TRIGGER keep_stock_minimum_from_update BEFORE UPDATE ON stock_minimum BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END;
CREATE TRIGGER keep_stock_movement_from_delete BEFORE DELETE ON stock_movement BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END;
CREATE TRIGGER keep_stock_movement_from_update BEFORE UPDATE ON stock_movement BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END;
COMMIT;
CREATE VIRTUAL TABLE consultation_index USING fts5(words, tokenize = 'unicode61 remove_diacritics 2', prefix = '2 3');
INSERT INTO consultation_index (rowid, words) VALUES (1, 'Naïve knees,
worse on stairs
tea, and a walk a day');
CREATE VIRTUAL TABLE day_note_index USING fts5(words, tokenize = 'unicode61 remove_diacritics 2', prefix = '2 3');
INSERT INTO day_note_index (rowid, words) VALUES (2, 'Slept well after the tea');
