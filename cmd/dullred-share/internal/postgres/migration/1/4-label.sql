-- free_text is a text, with the first number that makes it one that no other id of the
-- class bears. Digits have no case, so that the text is folded once.
CREATE FUNCTION dullred.free_text(l_id uuid, l_class text, l_text text) RETURNS text LANGUAGE plpgsql AS $$
DECLARE
	plain text := dullred.fold(l_text);
	number text := '';
BEGIN
	FOR n IN 2 .. 2147483647 LOOP
		EXIT WHEN NOT EXISTS (SELECT FROM dullred.label
			WHERE class = l_class AND folded = md5(plain || number) AND id <> l_id);
		number := ' ' || n;
	END LOOP;
	RETURN l_text || number;
END $$;

-- put_label stores the label of a bench at a place in the line. It gives what became of
-- it, with the text that the id has then, or NULL where it is as it was sent; and
-- whether it took the place.
CREATE FUNCTION dullred.put_label(mine uuid, l_id uuid, l_class text, l_text text, place bigint,
	OUT fate text, OUT there text, OUT placed boolean) LANGUAGE plpgsql AS $$
DECLARE
	old dullred.label;
BEGIN
	placed := false;
	IF (l_class = 'bench' AND l_id <> mine)
		OR (l_class <> 'bench' AND EXISTS (SELECT FROM dullred.bench WHERE id = l_id)) THEN
		RAISE EXCEPTION 'the label % is that of another bench', l_id USING ERRCODE = 'DR001';
	END IF;
	IF EXISTS (SELECT FROM dullred.forgotten WHERE id = l_id) THEN
		fate := 'forgotten';
		RETURN;
	END IF;
	SELECT * INTO old FROM dullred.label WHERE id = l_id;
	IF old.owner <> mine AND l_class <> 'bench' THEN
		IF (old.class, old.text) <> (l_class, l_text) THEN
			fate := 'stayed ' || old.class;
			there := old.text;
		END IF;
		RETURN;
	END IF;
	there := dullred.free_text(l_id, l_class, l_text);
	IF there <> l_text THEN
		fate := 'renamed';
	END IF;
	IF (old.class, old.text, old.owner) IS NOT DISTINCT FROM (l_class, there, mine) THEN
		RETURN;
	END IF;
	placed := true;
	INSERT INTO dullred.label (id, class, text, folded, seq, owner)
		VALUES (l_id, l_class, there, md5(dullred.fold(there)), place, mine)
		ON CONFLICT (id) DO UPDATE SET class = excluded.class, text = excluded.text, folded = excluded.folded,
			seq = excluded.seq, owner = excluded.owner;
END $$;
