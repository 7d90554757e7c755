"""Where photos come from: a folder that a camera fills, or a camera at the tablet."""

from fieldapp.work.photo_sources.camera import Camera, NoCamera, own_camera
from fieldapp.work.photo_sources.camera_folder import ENDINGS, CameraFolder
from fieldapp.work.photo_sources.source import PhotoSource

__all__ = ["ENDINGS", "Camera", "CameraFolder", "NoCamera", "PhotoSource", "own_camera"]
