//! Arbitrary bytes, and words of the protocol put together, as lines for the logger that is set up on site: nothing panics, a refusal has a
//! reason, and a request reads the same when it is written again.

use crc::{CRC_16_IBM_3740, Crc};
use firmware::field::CHANNELS;
use firmware::field::line::*;

use super::bytes::Bytes;

const CRC: Crc<u16> = Crc::<u16>::new(&CRC_16_IBM_3740);
const WORDS: [&str; 16] = [
    "7",
    "read",
    "status",
    "zero",
    "shunt",
    "span",
    "save",
    "all",
    "3",
    "65536",
    "8",
    "1.0125",
    "0.8",
    "2026-03-14",
    "2027-02-29",
    "",
];

/// Returns whether a request was read.
pub fn run(data: &[u8]) -> bool {
    let mut bytes = Bytes::new(data);
    let mut line = Vec::new();
    for word in 0..2 + bytes.byte() % 4 {
        if word > 0 {
            line.push(b' ');
        }
        match bytes.byte() {
            // Most lines begin with a number and a command.
            choice @ 0..224 => {
                let among = match word {
                    0 => &WORDS[..1],
                    1 => &WORDS[1..7],
                    _ => &WORDS[7..],
                };
                line.extend(among[usize::from(choice) % among.len()].bytes());
            }
            length => line.extend((0..length % 32).map(|_| bytes.byte())),
        }
    }
    if bytes.byte() > 8 {
        let checksum = CRC.checksum(&line);
        line.extend(format!(" #{checksum:04x}").bytes());
    }
    whole(&line);
    let (number, request) = parse(&line);
    match request {
        Ok(request) => {
            assert!(number > 0);
            assert_eq!(parse(&written(number, request)), (number, Ok(request)));
            true
        }
        Err(error) => {
            assert!(!error.to_string().is_empty());
            false
        }
    }
}

/// A line feed ends one line, whatever the bytes in front of it.
fn whole(line: &[u8]) {
    let mut received = Received::new();
    let mut lines = 0;
    for byte in line.iter().chain(b"\nread\n") {
        received.add(*byte, |line| {
            lines += 1;
            assert!(
                line.is_ok_and(|line| line.len() <= LONGEST_REQUEST && !line.contains(&b'\n'))
                    || line == Err(LineError::Length)
            );
        });
    }
    assert_eq!(lines, 2 + line.iter().filter(|byte| **byte == b'\n').count());
}

/// The request as a host writes it, without its line feed.
fn written(number: u16, request: Request) -> Vec<u8> {
    let line = match request {
        Request::Read { channel } => line(number, format_args!("read {channel}")),
        Request::Status => line(number, format_args!("status")),
        Request::StatusOf { channel } => line(number, format_args!("status {channel}")),
        Request::Zero { channels, count } => {
            assert!(channels.numbers().all(|channel| channel < CHANNELS));
            line(number, format_args!("zero {channels} {count}"))
        }
        Request::Shunt { channel, count } => line(number, format_args!("shunt {channel} {count}")),
        Request::Span { channel, span } => {
            assert!((0.8..=1.25).contains(&span.ratio()));
            line(number, format_args!("span {channel} {:.9}", span.ratio()))
        }
        Request::Save { date } => {
            line(number, format_args!("save {}-{}-{}", date.year(), date.month(), date.day()))
        }
    };
    line.trim_end().as_bytes().to_vec()
}
