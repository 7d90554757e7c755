"""Where photos come from: a folder that a camera fills, a file, or a camera at the tablet."""

from fieldapp.work.photo_sources.camera import Camera, NoCamera
from fieldapp.work.photo_sources.camera_folder import CameraFolder
from fieldapp.work.photo_sources.source import PhotoSource
from fieldapp.work.photo_sources.stored_files import StoredFiles

__all__ = ["Camera", "CameraFolder", "NoCamera", "PhotoSource", "StoredFiles"]
