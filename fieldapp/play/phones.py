"""What a story does to a phone: its clock, its battery, its road, who is on it."""

from fieldapp.play.story import Line, Story, offset_ms
from fieldapp.play.world import PlayFault, World


def change_phone(world: World, story: Story, line: Line) -> None:
    """Do what a line says of a phone, by its true time. Errors: `PlayFault`."""
    said, where = line.said, f"line {line.number}"
    phone = world.phone(said["phone"], now=line.at, zone=story.zone)
    if "clock" in said:
        phone.skew_ms = offset_ms(said["clock"], where)
    if said.get("restart"):
        phone.restart(line.at)
    if "online" in said:
        phone.online = bool(said["online"])
    if "enrol" in said:
        if said["enrol"] not in story.people:
            known = ", ".join(story.people)
            raise PlayFault(f"{where}, enrol: found {said['enrol']}, allowed: {known}")
        world.enrol(phone, story.people[said["enrol"]].person, line.at)
