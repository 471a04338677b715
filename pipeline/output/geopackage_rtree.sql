-- The triggers that keep the spatial index of table {t} on column geometry when the
-- table is edited: OGC 12-128r17 (GeoPackage 1.3), annex F.3. The ST_
-- functions are those of the editing program.
CREATE TRIGGER rtree_{t}_geometry_insert AFTER INSERT ON {t}
  WHEN (new.geometry NOT NULL AND NOT ST_IsEmpty(NEW.geometry))
BEGIN
  INSERT OR REPLACE INTO rtree_{t}_geometry VALUES (
    NEW.fid,
    ST_MinX(NEW.geometry), ST_MaxX(NEW.geometry),
    ST_MinY(NEW.geometry), ST_MaxY(NEW.geometry)
  );
END;

CREATE TRIGGER rtree_{t}_geometry_update1 AFTER UPDATE OF geometry ON {t}
  WHEN OLD.fid = NEW.fid AND
       (NEW.geometry NOTNULL AND NOT ST_IsEmpty(NEW.geometry))
BEGIN
  INSERT OR REPLACE INTO rtree_{t}_geometry VALUES (
    NEW.fid,
    ST_MinX(NEW.geometry), ST_MaxX(NEW.geometry),
    ST_MinY(NEW.geometry), ST_MaxY(NEW.geometry)
  );
END;

CREATE TRIGGER rtree_{t}_geometry_update2 AFTER UPDATE OF geometry ON {t}
  WHEN OLD.fid = NEW.fid AND
       (NEW.geometry ISNULL OR ST_IsEmpty(NEW.geometry))
BEGIN
  DELETE FROM rtree_{t}_geometry WHERE id = OLD.fid;
END;

CREATE TRIGGER rtree_{t}_geometry_update3 AFTER UPDATE ON {t}
  WHEN OLD.fid != NEW.fid AND
       (NEW.geometry NOTNULL AND NOT ST_IsEmpty(NEW.geometry))
BEGIN
  DELETE FROM rtree_{t}_geometry WHERE id = OLD.fid;
  INSERT OR REPLACE INTO rtree_{t}_geometry VALUES (
    NEW.fid,
    ST_MinX(NEW.geometry), ST_MaxX(NEW.geometry),
    ST_MinY(NEW.geometry), ST_MaxY(NEW.geometry)
  );
END;

CREATE TRIGGER rtree_{t}_geometry_update4 AFTER UPDATE ON {t}
  WHEN OLD.fid != NEW.fid AND
       (NEW.geometry ISNULL OR ST_IsEmpty(NEW.geometry))
BEGIN
  DELETE FROM rtree_{t}_geometry WHERE id IN (OLD.fid, NEW.fid);
END;

CREATE TRIGGER rtree_{t}_geometry_delete AFTER DELETE ON {t}
  WHEN old.geometry NOT NULL
BEGIN
  DELETE FROM rtree_{t}_geometry WHERE id = OLD.fid;
END;
