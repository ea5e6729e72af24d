"""The job folder on disk: files in, nouns out, every fault told at once."""

from wormwright.store.entry import ReadingText
from wormwright.store.fault import ChangedMeanwhileError, FileFault, FolderBusyError, JobFolderError
from wormwright.store.folder import JobFolder

__all__ = [
    "ChangedMeanwhileError",
    "FileFault",
    "FolderBusyError",
    "JobFolder",
    "JobFolderError",
    "ReadingText",
]
