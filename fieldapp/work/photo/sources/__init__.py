"""Where photos come from: a folder that a camera fills, or a camera at the tablet."""

from fieldapp.work.photo.sources.camera import CAMERAS, Camera, Frame, NoCamera, own_camera
from fieldapp.work.photo.sources.camera_folder import ENDINGS, CameraFolder
from fieldapp.work.photo.sources.source import PhotoSource

__all__ = [
    "CAMERAS",
    "ENDINGS",
    "Camera",
    "CameraFolder",
    "Frame",
    "NoCamera",
    "PhotoSource",
    "own_camera",
]
