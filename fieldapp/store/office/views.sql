-- The views that a person or a report tool queries: the same text on SQLite and PostgreSQL.
-- views.md beside this file documents them; a test holds both together.
-- After a change here raise FORM in line_tables.py: they are made anew then.

CREATE VIEW rounds AS
SELECT h.name AS heading, h.level, it.number, it.over_old, it.round_id, it.round_revision,
    it.support_class, it.joint_m, it.last_row_m, it.advance_m,
    it.rows, it.started_at, it.fired_at, it.made_at,
    coalesce(who.name, it.author) AS stated_by, coalesce(t.name, it.tablet) AS tablet,
    it.decision, coalesce(signer.name, it.signed_by) AS signed_by, it.signed_at,
    it.entry_line_m, it.in_dispute,
    shown.standard AS standard_shown, shown.verdict AS verdict_shown,
    shown.headline AS headline_shown, shown.may_be_accepted AS may_be_accepted_shown,
    force.standard AS standard_in_force, force.verdict AS verdict_in_force,
    force.headline AS headline_in_force,
    force.may_be_accepted AS may_be_accepted_in_force,
    coalesce(shown.as_at, force.as_at) AS judged_as_at,
    coalesce(shown.method_version, force.method_version) AS method_version
FROM office_round AS it
JOIN office_heading AS h ON h.heading_id = it.heading_id
LEFT JOIN office_judgement AS shown
    ON shown.round_revision = it.round_revision AND shown.shown
LEFT JOIN office_judgement AS force
    ON force.round_revision = it.round_revision AND force.in_force
LEFT JOIN office_person AS signer ON signer.person_id = it.signed_by
LEFT JOIN office_person AS who ON who.person_id = it.author
LEFT JOIN office_tablet AS t ON t.tablet = it.tablet;

CREATE VIEW findings AS
SELECT h.name AS heading, h.level, r.number, r.round_id, r.round_revision,
    j.standard, it.standard_revision, j.shown, j.in_force, j.as_at AS judged_as_at,
    j.method_version, it.list_place, it.check_name, it.title, it.verdict, it.holds,
    it.measured, it.measured_value, it.uncertainty, it.limit_text, it.limit_value,
    it.unit, it.place, it.chainage_m, it.s_m, it.bolt_row, it.bolt_position, it.zone,
    it.places, it.because, it.how, it.basis, it.fix, it.deviation
FROM office_finding AS it
JOIN office_judgement AS j ON j.round_revision = it.round_revision
    AND j.standard_revision = it.standard_revision
JOIN office_round AS r ON r.round_revision = it.round_revision
JOIN office_heading AS h ON h.heading_id = r.heading_id;

CREATE VIEW bolts AS
SELECT h.name AS heading, h.level, r.number, r.round_id, r.round_revision,
    it.bolt_row, it.bolt_position, it.chainage_m, it.s_m, it.zone, it.looked_at, it.state,
    it.faults, it.counts, it.plate_seated, it.plated, it.anchored, it.method
FROM office_bolt AS it
JOIN office_round AS r ON r.round_revision = it.round_revision
JOIN office_heading AS h ON h.heading_id = r.heading_id;

CREATE VIEW laps AS
SELECT h.name AS heading, h.level, r.number, r.round_id, r.round_revision,
    it.lap, it.sheets, it.openings, it.least_mm, it.width_mm, it.demanded_openings, it.demanded_mm,
    it.method, it.held, it.not_held_where
FROM office_lap AS it
JOIN office_round AS r ON r.round_revision = it.round_revision
JOIN office_heading AS h ON h.heading_id = r.heading_id;

CREATE VIEW work_figures AS
SELECT h.name AS heading, h.level, r.number, r.round_id, r.round_revision, r.support_class,
    r.advance_m, it.crew, it.method, it.crew_size, it.started_at, it.finished_at, it.minutes,
    it.delay_minutes, it.delays, it.bolts_used, it.bolts_by_standard, it.plates_used,
    it.mesh_pieces_used, it.mesh_pieces_by_standard, it.meshed_m2,
    it.meshed_m2 * 60 / it.minutes AS meshed_m2_per_h, it.capsules_used,
    it.capsules_by_standard, it.cost, it.cost_per_m, it.currency, it.beyond_last_row,
    it.beyond_reason
FROM office_work AS it
JOIN office_round AS r ON r.round_revision = it.round_revision
JOIN office_heading AS h ON h.heading_id = r.heading_id;

CREATE VIEW sign_offs AS
SELECT h.name AS heading, h.level, r.number, it.round_id, it.round_revision,
    it.sign_off_id, it.revision, it.decision, it.role,
    coalesce(who.name, it.author) AS signed_by, it.made_at, it.judged_at,
    it.standard_revision, it.entry_line_m, it.says, it.fix_list,
    coalesce(t.name, it.tablet) AS tablet, it.believed, it.why_not,
    r.round_revision IS NOT NULL AS signs_current_revision,
    j.assessment = it.assessment AS judged_alike
FROM office_sign_off AS it
JOIN office_heading AS h ON h.heading_id = it.heading_id
LEFT JOIN office_round AS r ON r.round_revision = it.round_revision
LEFT JOIN office_judgement AS j ON j.round_revision = it.round_revision
    AND j.standard_revision = it.standard_revision AND j.as_at = it.judged_at
LEFT JOIN office_person AS who ON who.person_id = it.author
LEFT JOIN office_tablet AS t ON t.tablet = it.tablet;

CREATE VIEW entry AS
SELECT h.name AS heading, h.level, it.as_at, it.line_m, it.outbye, it.face_m, it.beyond,
    it.mark, it.because, it.until, it.cut_off, it.metres_not_signed, it.deviations, it.doubts,
    it.failed_tests
FROM office_entry AS it
JOIN office_heading AS h ON h.heading_id = it.heading_id;

CREATE VIEW coverage AS
SELECT h.name AS heading, h.level, it.as_at, it.signed_m, it.fired_m,
    CASE WHEN it.fired_m > 0 THEN it.signed_m / it.fired_m END AS share,
    (SELECT count(*) FROM office_round AS r WHERE r.heading_id = it.heading_id) AS rounds,
    (SELECT count(*) FROM office_round AS r WHERE r.heading_id = it.heading_id
        AND r.decision IS NULL) AS rounds_not_signed
FROM office_entry AS it
JOIN office_heading AS h ON h.heading_id = it.heading_id;

CREATE VIEW events AS
SELECT h.name AS heading, h.level, it.event_id, it.what, it.happened_at, it.chainage_m,
    it.to_m, it.radius_m, it.excluded_until, it.inspected_at, it.fired_m, it.note,
    coalesce(who.name, it.author) AS stated_by, it.made_at,
    coalesce(t.name, it.tablet) AS tablet
FROM office_event AS it
JOIN office_heading AS h ON h.heading_id = it.heading_id
LEFT JOIN office_person AS who ON who.person_id = it.author
LEFT JOIN office_tablet AS t ON t.tablet = it.tablet;

CREATE VIEW damage AS
SELECT h.name AS heading, h.level, it.as_at, it.damage_id, it.label, it.kind, it.chainage_m,
    it.to_m, it.s_m, it.zone, it.first_seen_at, it.last_seen_at, it.observations,
    it.severity, it.exposure, it.priority, it.due_at, it.overdue_days, it.grown, it.holds,
    it.standing, it.because
FROM office_damage AS it
JOIN office_heading AS h ON h.heading_id = it.heading_id;

CREATE VIEW rehab AS
SELECT h.name AS heading, h.level, it.rehab_id, it.revision, it.from_m, it.to_m, it.state,
    it.damages, it.parent, it.order_of_work, it.crew, it.started_at, it.finished_at,
    it.outcome, it.done_from_m, it.done_to_m, it.bolts_added, it.lap_openings, it.materials,
    it.refused_because, coalesce(who.name, it.author) AS stated_by, it.made_at,
    coalesce(t.name, it.tablet) AS tablet
FROM office_rehab AS it
JOIN office_heading AS h ON h.heading_id = it.heading_id
LEFT JOIN office_person AS who ON who.person_id = it.author
LEFT JOIN office_tablet AS t ON t.tablet = it.tablet;

CREATE VIEW intersections AS
SELECT h.name AS heading, h.level, it.as_at, it.intersection_id, it.label, it.from_m, it.to_m,
    it.span_m, it.support_class, it.cable, it.cables, it.step, it.done, it.done_at,
    it.cables_wait, it.bolts, it.opened_at, it.verdict, it.because
FROM office_intersection AS it
JOIN office_heading AS h ON h.heading_id = it.heading_id;

CREATE VIEW people AS
SELECT person_id, name, roles, enrolled_at, ended_at, keys FROM office_person;

CREATE VIEW tablets AS
SELECT it.tablet, it.name, it.standing, it.valid_through, it.follows, it.segments,
    it.last_segment, it.missing_segments, it.two_rows,
    coalesce(e.entries, 0) AS entries, coalesce(e.unverified, 0) AS unverified_entries,
    e.newest_made_at
FROM office_tablet AS it
LEFT JOIN (
    SELECT origin, count(*) AS entries, max(made_at) AS newest_made_at,
        sum(CASE WHEN counts THEN 0 ELSE 1 END) AS unverified
    FROM kept_entry GROUP BY origin
) AS e ON e.origin = it.tablet;

CREATE VIEW conflicts AS
SELECT it.kind, it.thing_id, h.name AS heading, it.revision,
    coalesce(who.name, it.author) AS stated_by, it.made_at,
    coalesce(t.name, it.tablet) AS tablet
FROM office_conflict AS it
LEFT JOIN office_heading AS h ON h.heading_id = it.heading_id
LEFT JOIN office_person AS who ON who.person_id = it.author
LEFT JOIN office_tablet AS t ON t.tablet = it.tablet;

CREATE VIEW bad_files AS
SELECT path, reason, tries, first_seen_s FROM bad_file;

CREATE VIEW entries AS
SELECT it.revision, it.kind, it.thing_id, it.made_at, h.name AS heading,
    it.round AS round_id, it.origin AS tablet_id, coalesce(t.name, it.origin) AS tablet,
    it.counts AS verified
FROM kept_entry AS it
LEFT JOIN office_heading AS h ON h.heading_id = it.heading
LEFT JOIN office_tablet AS t ON t.tablet = it.origin;
