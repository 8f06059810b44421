"""Reads every zip of a site: that it is whole, that what it holds has the checksums that it says, and that it has the one
that the site says. Prints how many there are; anything wrong ends it."""

import hashlib
import pathlib
import sys
import zipfile

site = pathlib.Path(sys.argv[1])
lines = (site / "SHA256SUMS").read_text().splitlines()
for line in lines:
    digest, name = line.split("  ", 1)
    assert hashlib.sha256((site / name).read_bytes()).hexdigest() == digest, name
    with zipfile.ZipFile(site / name) as held:
        assert held.testzip() is None, name
        sums = dict(reversed(row.split("  ", 1)) for row in held.read("SHA256SUMS").decode().splitlines())
        names = set(held.namelist()) - {"SHA256SUMS"}
        assert names == set(sums), names ^ set(sums)
        for inner, wanted in sums.items():
            assert hashlib.sha256(held.read(inner)).hexdigest() == wanted, inner
        assert "plan/plan.yaml" in names
        dates = {info.date_time for info in held.infolist()}
        assert dates == {(1980, 1, 1, 0, 0, 0)}, dates
print(f"{len(lines)} zips")
