"""A database lies on this machine's own disk, or nowhere."""

from pathlib import Path

import pytest

from fieldapp.start import open_site
from fieldapp.store.place import PlaceRefused, file_system_of, mounted_at, unfit

MOUNTS = """\
22 1 254:0 / / rw,relatime shared:1 - ext4 /dev/vda rw
30 22 0:25 / /mnt/share rw,relatime shared:9 - cifs //server/mine rw,vers=3.1.1
31 22 8:1 / /media/stick rw - exfat /dev/sda1 rw
32 30 0:26 / /mnt/share/in\\040it rw - ext4 /dev/vdb rw
33 22 0:27 / /srv/cloud rw - fuse.somedrive somedrive rw
"""


@pytest.mark.parametrize(
    ("folder", "kind"),
    [
        ("/srv/tablet/records", "ext4"),
        ("/mnt/share/records", "cifs"),
        ("/mnt/shared", "ext4"),
        ("/mnt/share/in it/records", "ext4"),
        ("/media/stick", "exfat"),
        ("/srv/cloud/records/demo", "fuse.somedrive"),
    ],
)
def test_the_innermost_mount_counts(folder: str, kind: str) -> None:
    """Published: proc(5), /proc/pid/mountinfo (its form, spaces written as \\\\040)."""
    assert mounted_at(MOUNTS, Path(folder)) == kind


def test_a_list_that_can_t_be_read_refuses_nothing() -> None:
    assert not mounted_at("", Path("/srv"))
    assert not unfit("")


@pytest.mark.parametrize("kind", ["cifs", "smb3", "nfs", "nfs4", "exfat", "vfat", "fuse.sshfs"])
def test_shares_and_sticks_hold_no_database(kind: str) -> None:
    assert unfit(kind)


@pytest.mark.parametrize("kind", ["ext4", "xfs", "btrfs", "tmpfs", "overlay", "fuseblk"])
def test_disks_do(kind: str) -> None:
    assert not unfit(kind)


def test_this_machine_says_what_a_folder_lies_on(tmp_path: Path) -> None:
    assert file_system_of(tmp_path)


def test_nothing_is_written_where_records_can_t_be_kept(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    list_of_mounts = tmp_path / "mounts"
    list_of_mounts.write_text(f"30 22 0:25 / {tmp_path} rw - cifs //server/mine rw\n")
    monkeypatch.setattr("fieldapp.store.place.MOUNTS", list_of_mounts)

    with pytest.raises(PlaceRefused) as told:
        open_site(tmp_path / "records")

    assert "cifs" in str(told.value)
    assert not (tmp_path / "records").exists()
