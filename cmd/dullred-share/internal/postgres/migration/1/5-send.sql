-- claim makes a bench that of the role that calls, unless it is that of another, or the
-- role has one already.
CREATE FUNCTION dullred.claim(mine uuid) RETURNS void
	LANGUAGE plpgsql SECURITY DEFINER SET search_path = pg_catalog, pg_temp AS $$
BEGIN
	INSERT INTO dullred.bench (id, role) VALUES (mine, session_user) ON CONFLICT DO NOTHING;
	IF NOT EXISTS (SELECT FROM dullred.bench WHERE id = mine AND role = session_user) THEN
		RAISE EXCEPTION 'the bench % belongs to another role, or the role % writes for another bench', mine, session_user
			USING ERRCODE = 'DR001';
	END IF;
END $$;

-- send stores entries and labels of the bench of the role that calls. It is one
-- statement, so that no lock is held while a message is on its way.
CREATE FUNCTION dullred.send(
	ids uuid[], ats bigint[], writtens bigint[], benches uuid[], hands uuid[], pieces uuid[], zoness text[],
	kinds text[], versions bigint[], processes text[], counts bigint[], shapes text[], thicks double precision[],
	widths double precision[], diameters double precision[], rings double precision[], lengths double precision[],
	temps double precision[], bodies text[], label_ids uuid[], label_classes text[], label_texts text[],
	OUT fresh bigint, OUT refused uuid[], OUT fates text[], OUT theres text[])
	LANGUAGE plpgsql SECURITY DEFINER SET search_path = pg_catalog, pg_temp AS $$
DECLARE
	mine uuid;
	last bigint;
	labelled bigint := cardinality(label_ids);
	anything boolean := false;
	incoming dullred.entry[];
	put record;
	added record;
BEGIN
	IF current_setting('synchronous_commit') = 'off' THEN
		PERFORM set_config('synchronous_commit', 'on', true);
	END IF;
	SELECT id INTO mine FROM dullred.bench WHERE role = session_user;
	IF mine IS NULL THEN
		RAISE EXCEPTION 'the role % writes for no bench', session_user USING ERRCODE = 'DR001';
	END IF;
	IF EXISTS (SELECT FROM unnest(benches) AS b WHERE b IS DISTINCT FROM mine) THEN
		RAISE EXCEPTION 'an entry is of another bench than %', mine USING ERRCODE = 'DR001';
	END IF;
	SELECT seq INTO last FROM dullred.head FOR UPDATE;

	FOR i IN 1 .. labelled LOOP
		put := dullred.put_label(mine, label_ids[i], label_classes[i], label_texts[i], last + i);
		anything := anything OR put.placed;
		fates[i] := coalesce(put.fate, '');
		theres[i] := coalesce(put.there, '');
	END LOOP;

	incoming := ARRAY(SELECT ROW(last + labelled + u.place, u.id, u.at, u.written, u.bench, u.hand, u.piece, u.zones,
			u.kind, u.version, u.process, nullif(u.count, 0), u.shape, nullif(u.thick, 0), nullif(u.width, 0),
			nullif(u.diameter, 0), nullif(u.ring, 0), nullif(u.length, 0), nullif(u.temp, 0), u.body, 0)::dullred.entry
		FROM unnest(ids, ats, writtens, benches, hands, pieces, zoness, kinds, versions, processes, counts, shapes,
			thicks, widths, diameters, rings, lengths, temps, bodies)
		WITH ORDINALITY AS u(id, at, written, bench, hand, piece, zones, kind, version, process, count, shape,
			thick, width, diameter, ring, length, temp, body, place));

	WITH new AS (
		INSERT INTO dullred.entry
		SELECT e.seq, e.id, e.at, e.written, e.bench, e.hand, e.piece, e.zones, e.kind, e.version, e.process, e.count,
			e.shape, e.thick, e.width, e.diameter, e.ring, e.length, e.temp, e.body, dullred.digest_of(e)
		FROM unnest(incoming) AS e
		ON CONFLICT (id) DO NOTHING
		RETURNING piece, digest
	), by_piece AS (
		SELECT piece, count(*) AS count, sum(digest) AS digest FROM new GROUP BY piece
	), kept AS (
		INSERT INTO dullred.piece_sum AS s
		SELECT b.piece, b.count, dullred.wrapped(b.digest) FROM by_piece AS b
		ON CONFLICT (piece) DO UPDATE SET count = s.count + excluded.count,
			digest = dullred.wrapped(s.digest::numeric + excluded.digest)
	)
	SELECT coalesce(sum(b.count), 0)::bigint AS count, coalesce(sum(b.digest), 0) AS digest INTO added FROM by_piece AS b;
	fresh := added.count;
	anything := anything OR fresh > 0;

	IF fresh < cardinality(ids) THEN
		refused := ARRAY(SELECT DISTINCT e.id FROM unnest(incoming) AS e JOIN dullred.entry AS h ON h.id = e.id
			WHERE (h.at, h.written, h.bench, h.hand, h.piece, h.zones, h.kind, h.version, h.process, h.count, h.shape,
					h.thick, h.width, h.diameter, h.ring, h.length, h.temp, h.body)
				IS DISTINCT FROM
				(e.at, e.written, e.bench, e.hand, e.piece, e.zones, e.kind, e.version, e.process, e.count, e.shape,
					e.thick, e.width, e.diameter, e.ring, e.length, e.temp, e.body)
				AND NOT (h.kind IN ('alert raised', 'alert acknowledged') AND h.kind = e.kind AND h.piece = e.piece));
	END IF;

	IF anything THEN
		UPDATE dullred.head SET seq = last + labelled + cardinality(ids), count = head.count + added.count,
			digest = dullred.wrapped(head.digest + added.digest);
		PERFORM pg_notify('dullred', '');
	END IF;
END $$;

-- release takes a bench from its role, so that another may claim it.
CREATE FUNCTION dullred.release(b uuid) RETURNS void
	LANGUAGE sql SECURITY DEFINER SET search_path = pg_catalog, pg_temp AS $$
	DELETE FROM dullred.bench WHERE id = b
$$;

-- forget erases a label, for good; the entries stay.
CREATE FUNCTION dullred.forget(l_id uuid) RETURNS void
	LANGUAGE plpgsql SECURITY DEFINER SET search_path = pg_catalog, pg_temp AS $$
BEGIN
	PERFORM FROM dullred.head FOR UPDATE;
	INSERT INTO dullred.forgotten (id) VALUES (l_id) ON CONFLICT DO NOTHING;
	DELETE FROM dullred.label WHERE id = l_id;
END $$;
