-- wrapped is a number modulo 2^64, as a bigint.
CREATE FUNCTION dullred.wrapped(n numeric) RETURNS bigint LANGUAGE sql IMMUTABLE AS $$
	SELECT (mod(mod(n + 9223372036854775808, 18446744073709551616) + 18446744073709551616, 18446744073709551616)
		- 9223372036854775808)::bigint
$$;

-- measured is a text as it enters a digest: its length in bytes, and its UTF-8.
CREATE FUNCTION dullred.measured(t text) RETURNS bytea LANGUAGE sql STABLE AS $$
	SELECT int4send(octet_length(t)) || convert_to(t, 'UTF8')
$$;

-- digest_of is the digest of an entry, the same as share.Digest. It is reckoned from
-- what the server stores, not taken from who sent it.
CREATE FUNCTION dullred.digest_of(e dullred.entry) RETURNS bigint LANGUAGE sql STABLE AS $$
	SELECT ('x' || encode(substr(sha256(
		CASE WHEN e.kind IN ('alert raised', 'alert acknowledged') THEN
			dullred.measured(e.id::text) || int8send(0) || int8send(0)
			|| dullred.measured('') || dullred.measured('') || dullred.measured(e.piece::text) || dullred.measured('')
			|| dullred.measured(e.kind) || int8send(0) || dullred.measured('') || int8send(0) || dullred.measured('')
			|| float8send(0) || float8send(0) || float8send(0) || float8send(0) || float8send(0) || float8send(0)
			|| dullred.measured('')
		ELSE
			dullred.measured(e.id::text) || int8send(e.at) || int8send(e.written)
			|| dullred.measured(e.bench::text) || dullred.measured(e.hand::text) || dullred.measured(e.piece::text)
			|| dullred.measured(e.zones) || dullred.measured(e.kind) || int8send(e.version)
			|| dullred.measured(e.process) || int8send(coalesce(e.count, 0)) || dullred.measured(e.shape)
			|| float8send(coalesce(e.thick, 0)) || float8send(coalesce(e.width, 0)) || float8send(coalesce(e.diameter, 0))
			|| float8send(coalesce(e.ring, 0)) || float8send(coalesce(e.length, 0)) || float8send(coalesce(e.temp, 0))
			|| dullred.measured(e.body)
		END), 1, 8), 'hex'))::bit(64)::bigint
$$;
