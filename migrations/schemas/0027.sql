PRAGMA application_id = 1397050958;
BEGIN;
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
CREATE TABLE card_address (
	id INTEGER NOT NULL,
	place INTEGER NOT NULL,
	card_version_id INTEGER NOT NULL,
	text TEXT NOT NULL,
	CONSTRAINT pk_card_address PRIMARY KEY (id),
	CONSTRAINT fk_card_address_card_version_id_card_version FOREIGN KEY(card_version_id) REFERENCES card_version (id),
	CONSTRAINT uq_card_address_card_version_id_place UNIQUE (card_version_id, place)
);
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
CREATE TABLE client (
	id TEXT NOT NULL,
	version INTEGER NOT NULL,
	CONSTRAINT pk_client PRIMARY KEY (id)
);
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
CREATE TABLE consultation (
	id INTEGER NOT NULL,
	client_id TEXT NOT NULL,
	CONSTRAINT pk_consultation PRIMARY KEY (id),
	CONSTRAINT fk_consultation_client_id_client FOREIGN KEY(client_id) REFERENCES client (id)
);
CREATE TABLE consultation_headings (
	id INTEGER NOT NULL,
	version INTEGER NOT NULL,
	saved TEXT NOT NULL,
	headings TEXT NOT NULL,
	CONSTRAINT pk_consultation_headings PRIMARY KEY (id),
	CONSTRAINT uq_consultation_headings_version UNIQUE (version)
);
CREATE VIRTUAL TABLE consultation_index USING fts5(words, tokenize = 'unicode61 remove_diacritics 2', prefix = '2 3');
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
CREATE TABLE course (
	id TEXT NOT NULL,
	client_id TEXT NOT NULL,
	created TEXT NOT NULL,
	version INTEGER NOT NULL,
	CONSTRAINT pk_course PRIMARY KEY (id),
	CONSTRAINT fk_course_client_id_client FOREIGN KEY(client_id) REFERENCES client (id)
);
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
CREATE VIRTUAL TABLE day_note_index USING fts5(words, tokenize = 'unicode61 remove_diacritics 2', prefix = '2 3');
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
CREATE TABLE diary_line (
	id INTEGER NOT NULL,
	course_id TEXT NOT NULL,
	remedy TEXT NOT NULL,
	CONSTRAINT pk_diary_line PRIMARY KEY (id),
	CONSTRAINT fk_diary_line_course_id_course FOREIGN KEY(course_id) REFERENCES course (id),
	CONSTRAINT uq_diary_line_course_id_remedy UNIQUE (course_id, remedy)
);
CREATE TABLE diary_saving (
	id INTEGER NOT NULL,
	entered TEXT NOT NULL,
	CONSTRAINT pk_diary_saving PRIMARY KEY (id)
);
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
CREATE TABLE draft (
	kind TEXT NOT NULL,
	subject TEXT NOT NULL,
	title TEXT NOT NULL,
	typed TEXT NOT NULL,
	content TEXT NOT NULL,
	CONSTRAINT pk_draft PRIMARY KEY (kind, subject)
);
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
CREATE TABLE giving (
	id INTEGER NOT NULL,
	client_id TEXT NOT NULL,
	course_id TEXT,
	given TEXT NOT NULL,
	CONSTRAINT pk_giving PRIMARY KEY (id),
	CONSTRAINT fk_giving_client_id_client FOREIGN KEY(client_id) REFERENCES client (id),
	CONSTRAINT fk_giving_course_id_course FOREIGN KEY(course_id) REFERENCES course (id)
);
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
CREATE TABLE herb_note_version (
	id INTEGER NOT NULL,
	version INTEGER NOT NULL,
	saved TEXT NOT NULL,
	herb TEXT NOT NULL,
	text TEXT NOT NULL,
	CONSTRAINT pk_herb_note_version PRIMARY KEY (id),
	CONSTRAINT uq_herb_note_version_herb_version UNIQUE (herb, version)
);
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
CREATE TABLE own_herb (
	id TEXT NOT NULL,
	version INTEGER NOT NULL,
	CONSTRAINT pk_own_herb PRIMARY KEY (id)
);
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
CREATE TABLE paper_content (
	digest TEXT NOT NULL,
	size INTEGER NOT NULL,
	content BLOB NOT NULL,
	CONSTRAINT pk_paper_content PRIMARY KEY (digest)
);
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
CREATE TABLE protocol (
	id TEXT NOT NULL,
	version INTEGER NOT NULL,
	CONSTRAINT pk_protocol PRIMARY KEY (id)
);
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
CREATE TABLE protocol_aim (
	id INTEGER NOT NULL,
	place INTEGER NOT NULL,
	protocol_version_id INTEGER NOT NULL,
	aim TEXT NOT NULL,
	CONSTRAINT pk_protocol_aim PRIMARY KEY (id),
	CONSTRAINT fk_protocol_aim_protocol_version_id_protocol_version FOREIGN KEY(protocol_version_id) REFERENCES protocol_version (id),
	CONSTRAINT uq_protocol_aim_protocol_version_id_place UNIQUE (protocol_version_id, place)
);
CREATE TABLE protocol_ceiling (
	id INTEGER NOT NULL,
	place INTEGER NOT NULL,
	protocol_version_id INTEGER NOT NULL,
	most INTEGER NOT NULL,
	CONSTRAINT pk_protocol_ceiling PRIMARY KEY (id),
	CONSTRAINT fk_protocol_ceiling_protocol_version_id_protocol_version FOREIGN KEY(protocol_version_id) REFERENCES protocol_version (id),
	CONSTRAINT uq_protocol_ceiling_protocol_version_id_place UNIQUE (protocol_version_id, place)
);
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
CREATE TABLE reaction_herb (
	id INTEGER NOT NULL,
	place INTEGER NOT NULL,
	reaction_id INTEGER NOT NULL,
	herb TEXT NOT NULL,
	CONSTRAINT pk_reaction_herb PRIMARY KEY (id),
	CONSTRAINT fk_reaction_herb_reaction_id_reaction FOREIGN KEY(reaction_id) REFERENCES reaction (id),
	CONSTRAINT uq_reaction_herb_reaction_id_place UNIQUE (reaction_id, place)
);
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
CREATE TABLE red_flag_check (
	id INTEGER NOT NULL,
	client_id TEXT NOT NULL,
	day DATE NOT NULL,
	recorded TEXT NOT NULL, cleared TEXT,
	CONSTRAINT pk_red_flag_check PRIMARY KEY (id),
	CONSTRAINT fk_red_flag_check_client_id_client FOREIGN KEY(client_id) REFERENCES client (id)
);
CREATE TABLE red_flag_tick (
	id INTEGER NOT NULL,
	place INTEGER NOT NULL,
	red_flag_check_id INTEGER NOT NULL,
	flag TEXT NOT NULL,
	CONSTRAINT pk_red_flag_tick PRIMARY KEY (id),
	CONSTRAINT fk_red_flag_tick_red_flag_check_id_red_flag_check FOREIGN KEY(red_flag_check_id) REFERENCES red_flag_check (id),
	CONSTRAINT uq_red_flag_tick_red_flag_check_id_place UNIQUE (red_flag_check_id, place)
);
CREATE TABLE remedy (
	id TEXT NOT NULL,
	version INTEGER NOT NULL,
	CONSTRAINT pk_remedy PRIMARY KEY (id)
);
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
CREATE TABLE snapshot (
	digest TEXT NOT NULL,
	content TEXT NOT NULL,
	schema INTEGER NOT NULL,
	CONSTRAINT pk_snapshot PRIMARY KEY (digest)
);
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
INSERT INTO alembic_version VALUES ('0027');
COMMIT;
